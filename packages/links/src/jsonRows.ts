// JSON as rows: one object in the whole message, or one in each line; slots are dotted paths into it.
import type { DecodeCode } from './decode.js';
import type { DecoderKind, Row } from './readers.js';
import { textReader } from './textLines.js';

export const jsonKind: DecoderKind<'json'> = {
  isText: true,
  problem: () => null,
  slotRule: () => null,
  reader: (_, slots) => {
    const textOf = textReader();
    const paths = slots.map((slot) => String(slot).split('.'));
    const rowOf = (value: unknown): Row | DecodeCode =>
      typeof value === 'object' && value !== null ? paths.map((path) => valueAt(value, path)) : 'not-json';
    return (message) => {
      const text = textOf(message);
      if (text === null) return ['not-text'];
      const whole = parsed(text);
      if (whole !== undefined || !text.includes('\n')) return [rowOf(whole)];
      return text
        .split('\n')
        .filter((line) => line.trim() !== '')
        .map((line) => rowOf(parsed(line)));
    };
  },
};

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Own properties only: a path can never reach into a prototype. null counts as absent. */
function valueAt(object: object, path: readonly string[]): unknown {
  let value: unknown = object;
  for (const key of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<string, unknown>)[key];
  }
  return value ?? undefined;
}
