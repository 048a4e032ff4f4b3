// Light or dark page: the system's choice until the reader makes one, which this browser then keeps.

export type Theme = 'light' | 'dark';
const KEY = 'stillprop.theme';

/** Puts a kept choice into force; called before anything is drawn. */
export function applyKeptTheme() {
  const kept = read();
  if (kept) document.documentElement.dataset.theme = kept;
}

/** The theme in force. */
export function currentTheme(): Theme {
  const chosen = document.documentElement.dataset.theme;
  if (chosen === 'light' || chosen === 'dark') return chosen;
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

export function chooseTheme(theme: Theme) {
  document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A browser that keeps nothing still shows the chosen theme until the page is closed.
  }
}

/** Paper is white: while it prints, the page is light, and canvases are drawn so. */
export function printInLight() {
  let before: string | undefined;
  addEventListener('beforeprint', () => {
    before = document.documentElement.dataset.theme;
    document.documentElement.dataset.theme = 'light';
  });
  addEventListener('afterprint', () => {
    if (before === undefined) delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = before;
  });
}

function read(): Theme | null {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : null;
  } catch {
    return null;
  }
}
