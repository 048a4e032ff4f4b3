// Text of a message: UTF-8 to lines, and a field of text to its value.
import { plainNumber } from './plainNumber.js';

const LINE_FEED = 0x0a;
const NO_LINES: readonly string[] = [];

/** Cuts messages into their lines that are not blank; null: the bytes are no UTF-8. */
export function lineReader(startsWith = ''): (message: Uint8Array) => readonly string[] | null {
  const textOf = textReader();
  const mayBeBlank = startsWith.trim() === '';
  const isRead = (line: string) => line.startsWith(startsWith) && !(mayBeBlank && line.trim() === '');
  return (message) => {
    // The usual message is one line with one line break at its end.
    const text = textOf(message.at(-1) === LINE_FEED ? message.subarray(0, -1) : message);
    if (text === null) return null;
    if (!text.includes('\n') && !text.includes('\r')) return isRead(text) ? [text] : NO_LINES;
    return text.split(LINE_BREAK).filter(isRead);
  };
}

/** The text of a message; null: the bytes are no UTF-8. A mark of byte order at the start is left out. */
export function textReader(): (message: Uint8Array) => string | null {
  const utf8 = new TextDecoder('utf-8', { fatal: true });
  return (message) => {
    try {
      return utf8.decode(message);
    } catch {
      return null;
    }
  };
}

const LINE_BREAK = /\r\n|\n|\r/;
/**
 * A function of a field's text, or of a stretch of text that is the field: its number or truth. An empty field is absent; what is neither number nor truth stays
 * text, and is refused as such.
 */
export function fieldReader(
  decimal: '.' | ',',
): (text: string, from?: number, to?: number) => number | boolean | string | undefined {
  return (text, from = 0, to = text.length) => {
    if (from >= to) return undefined;
    if (decimal === '.') {
      const number = plainNumber(text, from, to);
      if (!Number.isNaN(number)) return number;
    }
    const field = text.slice(from, to).trim();
    if (field === '') return undefined;
    const number = plainNumber(decimal === '.' ? field : field.replace('.', '?').replace(',', '.'));
    return Number.isNaN(number) ? (truth(field) ?? field) : number;
  };
}

function truth(field: string): boolean | undefined {
  const word = field.toLowerCase();
  return word === 'true' ? true : word === 'false' ? false : undefined;
}
