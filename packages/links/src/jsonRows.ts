// JSON as rows: one object in the whole datagram, or one in each line; slots are dotted paths into it.
import type { RowReader } from './decode.js';

/** Cuts a datagram into rows; a line that is no JSON object or array becomes its code. */
export const jsonRows: RowReader = (text) => {
  const whole = parsed(text);
  const values =
    whole === undefined
      ? text
          .split('\n')
          .filter((line) => line.trim() !== '')
          .map(parsed)
      : [whole];
  return values.map((value) =>
    typeof value === 'object' && value !== null ? (slot) => valueAt(value, String(slot)) : 'not-json',
  );
};

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Own properties only: a path can never reach into a prototype. null counts as absent. */
function valueAt(object: object, path: string): unknown {
  let value: unknown = object;
  for (const key of path.split('.')) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<string, unknown>)[key];
  }
  return value ?? undefined;
}
