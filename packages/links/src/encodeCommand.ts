// Commands to a simulator: a profile's template of text or bytes with its values filled in.
import type { BinaryTemplate, LinkCommandName, LinkProfile } from '@stillprop/contracts';
import { bytesOfHex, fits, writeNumber } from './binaryNumbers.js';
import { PLACEHOLDER, type TemplateValue } from './templateProblem.js';

export type CommandValues = Readonly<Partial<Record<TemplateValue, string | number>>>;

/** Longest text a value may have: it names a pilot, a propeller state or a scenario. */
const LONGEST_VALUE = 64;

/**
 * The bytes of one command.
 *
 * @param values What the template asks for; numbers are put into text plainly, with at most four decimals.
 * @throws {RangeError} If the profile has no such command, a value is missing, not finite, too large for its place, too
 *   long, or holds a space or a control character (which could begin a command of its own).
 */
export function encodeCommand(profile: LinkProfile, name: LinkCommandName, values: CommandValues): Uint8Array {
  const template = profile.commands?.[name];
  if (template === undefined) throw new RangeError(`link "${profile.id}" has no command "${name}"`);
  if (typeof template !== 'string') return filledBytes(template, values);
  const text = template.replace(PLACEHOLDER, (_, key: string) => filled(key, values[key as TemplateValue]));
  return new TextEncoder().encode(text);
}

function filled(key: string, value: string | number | undefined): string {
  if (value === undefined) throw new RangeError(`${key} is missing: the command asks for it`);
  if (typeof value === 'number') return String(Number(finite(key, value).toFixed(4)));
  if (value.length === 0 || value.length > LONGEST_VALUE || /[\s\p{C}]/u.test(value)) {
    const rule = `1 to ${LONGEST_VALUE} characters without spaces or control characters`;
    throw new RangeError(`${key} must have ${rule}, got ${JSON.stringify(value.slice(0, LONGEST_VALUE))}`);
  }
  return value;
}

function filledBytes(template: BinaryTemplate, values: CommandValues): Uint8Array {
  const bytes = bytesOfHex(template.hex);
  const view = new DataView(bytes.buffer);
  for (const place of template.values) {
    const value = values[place.value];
    if (value === undefined) throw new RangeError(`${place.value} is missing: the command asks for it`);
    const number = finite(place.value, value) * place.scale;
    if (!fits(number, place.type)) {
      throw new RangeError(`${place.value} × ${place.scale} must fit into ${place.type}, got ${number}`);
    }
    writeNumber(view, place.offset, number, place);
  }
  return bytes;
}

function finite(key: string, value: string | number): number {
  if (typeof value === 'number' && Number.isFinite(value)) return value;
  throw new RangeError(`${key} must be a finite number, got ${value}`);
}
