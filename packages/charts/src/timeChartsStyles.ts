// Styles of the time charts: texts and marks that stand over the plots.
import { css } from 'lit';

export const timeChartsStyles = css`
  :host { display: flex; flex-direction: column; min-height: 0; }
  .stack { position: relative; flex: 1 1 0; min-height: 320px; touch-action: pan-y; cursor: crosshair; overflow: hidden; }
  .stack > * { position: absolute; white-space: nowrap; pointer-events: none; }
  .plots { inset: 0; }
  .none { margin: 0; color: var(--quiet); font-size: 0.875rem; }
  .slider { top: 0; }
  .slider:focus-visible { outline-offset: -2px; }
  .phase, .event, .title, .direct, .moment, .axis-title { font-size: 0.8125rem; line-height: 18px; color: var(--quiet); }
  .event, .phase { font-size: 13px; }
  .tip { width: 8px; height: 8px; margin-left: -3.5px; background: var(--quiet); clip-path: polygon(0 0, 100% 0, 50% 100%); }
  .direct { line-height: 15px; font-size: 13px; text-shadow: 0 0 3px var(--paper), 0 0 3px var(--paper); z-index: 1; }
  .direct.ink { color: var(--ink); }
  .direct.alarm { color: var(--alarm); }
  .direct.accent { color: var(--accent); }
  .title { display: flex; flex-direction: column; color: var(--ink); line-height: 17px; }
  .title b, .moment b { font-weight: 600; }
  .title b { color: var(--ink); }
  .title.narrow { flex-direction: row; gap: 0.6rem; }
  .title.narrow b { min-width: 3.4rem; }
  .title.narrow { z-index: 1; }
  .title.narrow > * { background: var(--paper); }
  .title .quiet { color: var(--quiet); }
  .cursor { left: 0; width: 2px; margin-left: -1px; background: var(--accent); }
  .dot { left: 0; top: 0; width: 9px; height: 9px; border-radius: 50%; background: var(--paper); border: 2.5px solid var(--accent); }
  .moment { right: 0; width: 124px; color: var(--accent); }
  .moment.narrow { width: auto; text-align: right; }
  .axis-title { right: 0; width: 124px; font-size: 12px; }
  .foot { display: flex; flex-wrap: wrap; align-items: start; gap: 0 1.5rem; }
  .foot details { flex: 1 1 12rem; }
  .plain { font: 0.8125rem var(--sans); color: var(--quiet); background: none; border: 0; padding: 0; min-height: 24px; cursor: pointer; }
  .plain::before { content: ''; display: inline-block; width: 10px; height: 10px; margin-right: 0.45rem; border: 1.5px solid currentColor; border-radius: 2px; vertical-align: -1px; }
  .plain[aria-pressed='true']::before { background: currentColor; box-shadow: inset 0 0 0 1.5px var(--paper); }
  .plain:hover { color: var(--ink); }
`;
