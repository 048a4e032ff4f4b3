// Text of a message: UTF-8 to lines, and a field of text to its value.
import { plainNumber } from './plainNumber.js';

const NO_LINES: readonly string[] = [];

/** Cuts messages into their lines that are not blank; null: the bytes are no UTF-8. */
export function lineReader(startsWith = ''): (message: Uint8Array) => readonly string[] | null {
  const textOf = textReader();
  const isRead = (line: string) => line.startsWith(startsWith) && line.trim() !== '';
  return (message) => {
    const text = textOf(message);
    if (text === null) return null;
    // The usual message is one line with one line break at its end.
    const feed = text.indexOf('\n');
    if (!text.includes('\r') && (feed < 0 || feed === text.length - 1)) {
      const line = feed < 0 ? text : text.slice(0, feed);
      return isRead(line) ? [line] : NO_LINES;
    }
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
 * A function of a field's text: its number or truth. An empty field is absent; what is neither number nor truth stays
 * text, and is refused as such.
 */
export function fieldReader(decimal: '.' | ','): (field: string) => number | boolean | string | undefined {
  return (text) => {
    if (text === '') return undefined;
    if (decimal === '.') {
      const number = plainNumber(text);
      if (!Number.isNaN(number)) return number;
    }
    const field = text.trim();
    if (field === '') return undefined;
    const number = plainNumber(decimal === '.' ? field : field.replace('.', '?').replace(',', '.'));
    return Number.isNaN(number) ? (truth(field) ?? field) : number;
  };
}

function truth(field: string): boolean | undefined {
  const word = field.toLowerCase();
  return word === 'true' ? true : word === 'false' ? false : undefined;
}
