// What messages of an unknown simulator look like: an open standard, a kind of text, or a binary layout.
import { SAMPLE_CHANNELS } from '@stillprop/contracts';
import { OPEN_STANDARDS, type OpenStandardName } from '../openStandards.js';
import type { Slot } from '../readers.js';
import { textReader } from '../textLines.js';
import { guessBinary } from './guessBinary.js';
import { guessText, type Shape } from './guessText.js';

export type { Shape } from './guessText.js';

const STANDARDS = Object.keys(OPEN_STANDARDS) as OpenStandardName[];
const SOUND_SHARE = 0.5;

/**
 * The shape of some messages of one sender, oldest first: a decoder that reads them and the slots it finds; null: none
 * was found. A guess, from these bytes alone: more messages, and ones in which something moves, make it better.
 */
export function guessShape(messages: readonly Uint8Array[]): Shape | null {
  const filled = messages.filter((message) => message.length > 0);
  if (filled.length === 0) return null;
  return standardShape(filled) ?? textShape(filled) ?? guessBinary(filled);
}

/** A message as text; null: it is not text that people could read. */
export function readableText(message: Uint8Array): string | null {
  const text = textReader()(message);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what text does not have
  return text === null || /[\u0000-\u0008\u000e-\u001f]/.test(text) ? null : text;
}

function textShape(messages: readonly Uint8Array[]): Shape | null {
  const texts = messages.map(readableText);
  return texts.includes(null) ? null : guessText(texts as string[]);
}

/** Check sums and lengths make it next to impossible that other bytes pass for a standard. */
function standardShape(messages: readonly Uint8Array[]): Shape | null {
  for (const name of STANDARDS) {
    const standard = OPEN_STANDARDS[name];
    const decoded = messages.map((message) => standard.decode(message));
    const sound = decoded.filter((one) => one.messages.length > 0 || (one.passedOver > 0 && one.refused.length === 0));
    const told = decoded.flatMap((one) => one.messages);
    if (told.length === 0 || sound.length < SOUND_SHARE * messages.length) continue;
    const given = new Set<string>(told.flatMap((message) => Object.keys(message.channels)));
    if (told.some(({ time }) => time !== undefined)) given.add('timeS');
    const slots: Slot[] = SAMPLE_CHANNELS.filter((channel) => given.has(channel));
    return { words: standard.name, decoder: { kind: name }, slots };
  }
  return null;
}
