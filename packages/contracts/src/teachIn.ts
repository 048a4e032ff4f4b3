// What is heard from a simulator that no profile describes yet: shape, slots with their values, and suggestions.
import { z } from 'zod';
import { Channel, SlotUnit } from './linkChannels.js';
import { Decoder } from './linkDecoder.js';
import { LinkTransport } from './linkTransport.js';

/** More slots than these are not shown: a message has seldom a quarter of it. */
export const MOST_SLOTS = 256;

export const SlotSuggestion = z.strictObject({
  channel: Channel,
  unit: SlotUnit,
  scale: z.number(),
  /** Why it is offered, in words. It is never taken by itself. */
  why: z.string(),
});
export type SlotSuggestion = z.infer<typeof SlotSuggestion>;

/** One place of a message that may be a channel, with what stood there. */
export const SeenSlot = z.strictObject({
  /** As a profile names it. */
  slot: z.union([z.int().min(0), z.string()]),
  /** The newest value; null: none yet. Text that is no number stays text. */
  newest: z.union([z.number(), z.boolean(), z.string(), z.null()]),
  /** Lowest and highest number so far; null: no number yet. */
  lowest: z.number().nullable(),
  highest: z.number().nullable(),
  /** Did it take more than one value? */
  moves: z.boolean(),
  suggestion: SlotSuggestion.nullable(),
});
export type SeenSlot = z.infer<typeof SeenSlot>;

export const Heard = z.strictObject({
  /** Where it listens, the port as bound, or to what it connects. */
  transport: LinkTransport,
  /** What keeps messages from coming in, and what to do; null: nothing known. */
  problem: z.string().nullable(),
  received: z.int(),
  rateHz: z.number(),
  /** Address of the newest message's sender; null: nothing came yet. */
  sender: z.string().nullable(),
  /** How many different senders were heard. */
  senders: z.int(),
  /** Seconds since the newest message; null: nothing came yet. */
  quietS: z.number().nullable(),
  /** The newest message as text, or as bytes of two hexadecimal digits each; long ones are cut. */
  newest: z.string(),
  isText: z.boolean(),
  lengthBytes: z.int(),
  /** The shape guessed, in a sentence. */
  shape: z.string(),
  /** How it is read; null: no shape was found. */
  decoder: Decoder.nullable(),
  slots: z.array(SeenSlot).max(MOST_SLOTS),
});
export type Heard = z.infer<typeof Heard>;
