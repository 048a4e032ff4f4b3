// How figures and tables look on a printed sheet of 80 columns: rounded the safe way, units with them.

export const SHEET_COLUMNS = 80;

/** A number in whole units, or to so many decimals: with a true minus, and none before a zero. */
export function written(value: number, decimals = 0): string {
  const digits = { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
  return unsignedZero(value, decimals).toLocaleString('en-GB', digits).replace('-', '−');
}

export const thousands = (value: number) => written(value);
export const ft = (value: number) => `${thousands(value)} ft`;
/** A number as people write it: at most one decimal. */
export const plain = (value: number) => unsignedZero(value, 1).toLocaleString('en-GB').replace('-', '−');

function unsignedZero(value: number, decimals: number): number {
  const power = 10 ** decimals;
  return Math.round(value * power) / power + 0; // + 0: no minus zero
}

/** A height that must be had: up to the next 10 ft. */
export const upTo10 = (value: number) => Math.ceil(value / 10 - 1e-9) * 10 + 0; // + 0: no minus zero
/** A height that must not be passed: down to the last 10 ft. */
export const downTo10 = (value: number) => Math.floor(value / 10 + 1e-9) * 10 + 0;
export const percent = (share: number) => `${Math.round(share * 100)} %`;
/** A share that must be had, in whole percent: down. */
export const percentDown = (share: number) => Math.floor(share * 100 + 1e-9);

/** A cost in feet, towards costing more, in steps of 5 ft; a dash where there is none. */
export function cost(value: number | null | undefined): string {
  return value === null || value === undefined ? '—' : signed(Math.ceil(value / 5 - 1e-9) * 5);
}

/** What something saves in feet, towards saving less, in steps of 5 ft. */
export const gain = (value: number) => signed(Math.floor(value / 5 + 1e-9) * 5).replace('+', '');

function signed(value: number): string {
  if (value === 0) return '0';
  return `${value < 0 ? '−' : '+'}${thousands(Math.abs(value))}`;
}

const NUMBER_AND_UNIT = /(\d) (?=(?:ft|kt|s|kg|°C|hPa|%)(?:\W|$))/g;

/**
 * Text broken between words to the sheet's width. Spaces before the first word are kept; what follows the first line is
 * set in by `hang` columns. A number keeps its unit beside it.
 */
export function wrap(text: string, hang = 0, columns = SHEET_COLUMNS): string[] {
  const lines: string[] = [];
  let line = /^ */.exec(text)?.[0] ?? '';
  let isEmpty = true;
  for (const word of text
    .trim()
    .replace(NUMBER_AND_UNIT, '$1\u00a0')
    .split(/ +/)
    .flatMap((one) => pieces(one, columns - Math.max(hang, line.length)))) {
    const next = isEmpty ? line + word : `${line} ${word}`;
    if (next.length <= columns) line = next;
    else {
      lines.push(line);
      line = ' '.repeat(hang) + word;
    }
    isEmpty = false;
  }
  return [...lines, line].map((one) => one.replaceAll('\u00a0', ' '));
}

/** A word too long for a line, in pieces that are not. */
function pieces(word: string, columns: number): string[] {
  if (word.length <= columns) return [word];
  return Array.from({ length: Math.ceil(word.length / columns) }, (_, i) => word.slice(i * columns, (i + 1) * columns));
}

/** A label and beside it the text that belongs to it, two spaces in. */
export function entry(label: string, text: string, labelColumns = 24): string[] {
  const [first = '', ...rest] = wrap(text, 0, SHEET_COLUMNS - labelColumns);
  const beside = `  ${label}`.padEnd(labelColumns);
  return [
    ...(beside.length > labelColumns ? [beside, ' '.repeat(labelColumns) + first] : [beside + first]),
    ...rest.map((line) => ' '.repeat(labelColumns) + line),
  ];
}

/** Columns side by side, two spaces in; those that `right` names are set to the right. */
export function table(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths = rows.reduce<number[]>((most, row) => row.map((cell, at) => Math.max(most[at] ?? 0, cell.length)), []);
  return rows.map((row) =>
    `  ${row
      .map((cell, at) => (right.includes(at) ? cell.padStart(widths[at] ?? 0) : cell.padEnd(widths[at] ?? 0)))
      .join('  ')}`.trimEnd(),
  );
}
