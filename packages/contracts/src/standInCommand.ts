// Commands that the stand-in simulator obeys: one line of text, a word and then name=value pairs.
import { z } from 'zod';
import { PropellerState } from './aircraft.js';
import { type Parsed, parse } from './problem.js';
import { identifier, quantity } from './quantities.js';

/** Text as a number; empty text is none, though Number() reads it as 0. */
const numeric = (schema: z.ZodType<number, number>) =>
  z
    .string()
    .transform((text) => (text === '' ? Number.NaN : Number(text)))
    .pipe(schema);
const seed = z
  .int('must be a whole number')
  .min(0, 'must be 0 or more')
  .max(2 ** 31 - 1, 'must be below 2147483648');

export const StandInCommand = z.discriminatedUnion('word', [
  z.strictObject({ word: z.literal('FAIL'), propeller: PropellerState.default('coarse') }),
  z.strictObject({
    word: z.literal('POWER'),
    fraction: numeric(quantity(0, 1, '')),
    propeller: PropellerState.default('coarse'),
  }),
  z.strictObject({ word: z.literal('RESTORE') }),
  z.strictObject({ word: z.literal('RESET') }),
  z.strictObject({
    word: z.literal('BEGIN'),
    scenario: identifier,
    pilot: identifier.default('prompt'),
    seed: numeric(seed).default(1),
    speed: numeric(quantity(0.1, 20, 'times real time')).default(1),
  }),
]);
export type StandInCommand = z.infer<typeof StandInCommand>;

const MAX_CHARACTERS = 300;

/** A command from its line of text; white space around it does not matter. */
export function parseStandInCommand(text: string): Parsed<StandInCommand> {
  if (text.length > MAX_CHARACTERS) {
    return {
      ok: false,
      problem: { field: 'command', message: `command must be at most ${MAX_CHARACTERS} characters` },
    };
  }
  const [word = '', ...pairs] = text.trim().split(/\s+/);
  const fields: [string, string][] = [];
  for (const pair of pairs) {
    const cut = pair.indexOf('=');
    if (cut < 1) return { ok: false, problem: { field: 'command', message: `"${pair}" must be name=value` } };
    fields.push([pair.slice(0, cut), pair.slice(cut + 1)]);
  }
  return parse(StandInCommand, { ...Object.fromEntries(fields), word }, 'command');
}
