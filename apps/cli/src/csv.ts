// Tables as comma-separated values (RFC 4180): one heading row, every row as long as it.

import { spreadsheetText } from '@stillprop/contracts';

export type Cell = string | number | boolean | null;

/** Text never becomes a formula; figures rounded to a tenth, those below 2 to four places; an empty cell for what there is not. */
export function csv(heading: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [heading, ...rows].map((row) => `${row.map(cellText).join(',')}\r\n`).join('');
}

export function cellText(value: Cell): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(round(value));
  const text = spreadsheetText(String(value));
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function round(value: number): number {
  const places = Math.abs(value) < 2 ? 1e4 : 10;
  return Math.round(value * places) / places + 0; // + 0: no minus zero
}
