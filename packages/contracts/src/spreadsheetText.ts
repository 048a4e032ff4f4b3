// Text for a cell of comma-separated values, such that no spreadsheet takes it for a formula.

/** Also behind spaces, quotes and separators, which some spreadsheets strip or split at, and in full-width forms, which some take for the same. */
const FORMULA = /^[\s",;]*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/;

/** The text, with an apostrophe before it if it could be taken for a formula. Numbers are no text and need none. */
export function spreadsheetText(text: string): string {
  return FORMULA.test(text) ? `'${text}` : text;
}
