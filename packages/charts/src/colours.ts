// Colours of the page as a canvas can use them, and word when they change.

export type ColourName = 'ink' | 'quiet' | 'rule' | 'sheet' | 'accent' | 'wash' | 'alarm' | 'paper';

/**
 * Custom properties of a host (`--ink`, `--accent`, …) as computed colours: a canvas knows neither custom properties
 * nor light-dark(), so a probe inside the host's shadow root takes each colour on.
 */
export function pageColours(host: Element): Record<ColourName, string> {
  const probe = document.createElement('i');
  probe.hidden = true;
  (host.shadowRoot ?? host).append(probe);
  const computed = getComputedStyle(probe);
  const read = (name: ColourName) => {
    probe.style.color = `var(--${name})`;
    return computed.color;
  };
  const colours = {
    ink: read('ink'),
    quiet: read('quiet'),
    rule: read('rule'),
    sheet: read('sheet'),
    accent: read('accent'),
    wash: read('wash'),
    alarm: read('alarm'),
    paper: read('paper'),
  };
  probe.remove();
  return colours;
}

/** Calls back when the root element's `data-theme` or the system's scheme changes; returns how to stop. */
export function onColoursChange(changed: () => void): () => void {
  const scheme = matchMedia('(prefers-color-scheme: dark)');
  scheme.addEventListener('change', changed);
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  return () => {
    scheme.removeEventListener('change', changed);
    observer.disconnect();
  };
}
