// Text of a message: UTF-8 to lines, and a field of text to its value.
const NO_LINES: readonly string[] = [];

/** Cuts messages into their lines that are not blank; null: the bytes are no UTF-8. */
export function lineReader(startsWith = ''): (message: Uint8Array) => readonly string[] | null {
  const textOf = textReader();
  return (message) => {
    const text = textOf(message);
    if (text === null) return null;
    // The usual message is one line with one line break at its end.
    const end = text.endsWith('\n') ? text.length - (text.endsWith('\r\n') ? 2 : 1) : text.length;
    const lines = LINE_BREAK.test(text.slice(0, end)) ? text.split(LINE_BREAK) : [text.slice(0, end)];
    const kept = lines.filter((line) => line.startsWith(startsWith) && line.trim() !== '');
    return kept.length === 0 ? NO_LINES : kept;
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
  return (untrimmed) => {
    const field = untrimmed.trim();
    if (field === '') return undefined;
    const plain = decimal === '.' ? field : field.replace('.', '?').replace(',', '.');
    const number = Number(plain);
    if (Number.isNaN(number)) return truth(field) ?? field;
    return isPlain(plain) ? number : field;
  };
}

/** Number() takes hexadecimal, binary and spelt-out numbers too: only digits, sign, point and exponent are meant here. */
function isPlain(text: string): boolean {
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    const digit = code >= 48 && code <= 57;
    const mark = code === 43 || code === 45 || code === 46 || code === 69 || code === 101; // + - . E e
    if (!digit && !mark) return false;
  }
  return true;
}

function truth(field: string): boolean | undefined {
  const word = field.toLowerCase();
  return word === 'true' ? true : word === 'false' ? false : undefined;
}
