// The one table of decoder kinds: which reader cuts a message of each kind into rows, and what its slots may be.
import type { Decoder, DecoderOf, Problem } from '@stillprop/contracts';
import { binaryKind } from './binaryRows.js';
import type { DecodeCode } from './decode.js';
import { delimitedKind } from './delimitedRows.js';
import { jsonKind } from './jsonRows.js';
import { keyValueKind } from './keyValueRows.js';
import { OPEN_STANDARDS } from './openStandards.js';
import { standardKind } from './standardRows.js';

export type Slot = string | number;

/** One moment of a message: the raw value of each slot asked for, in the order asked; undefined where it has none. */
export type Row = readonly unknown[];

/**
 * A message as rows, oldest first; one that could not be cut up is its code. It never throws, whatever the bytes.
 * `arrivalTimeS` is when it came, on a steady clock, or NaN: readers that hold values for a while go by it.
 */
export type RowReader = (message: Uint8Array, arrivalTimeS: number) => readonly (Row | DecodeCode)[];

/** All that is to be known of one kind of decoder. */
export interface DecoderKind<Kind extends Decoder['kind']> {
  /** Are its messages lines of text? Only these can come over TCP. */
  readonly isText: boolean;
  /** What in this decoder cannot work, although each field by itself is well formed; null: nothing. */
  problem(decoder: DecoderOf<Kind>): Problem | null;
  /** What a slot must be, where this one can never be found, such as `must be a field of …`; null: it can. */
  slotRule(decoder: DecoderOf<Kind>, slot: Slot): string | null;
  /** The reader for these slots. It may remember what came before: one reader serves one stream. */
  reader(decoder: DecoderOf<Kind>, slots: readonly Slot[]): RowReader;
}

/** A decoder kind is usable once it stands here. */
const KINDS: { readonly [Kind in Decoder['kind']]?: DecoderKind<Kind> } = {
  delimited: delimitedKind,
  keyValue: keyValueKind,
  json: jsonKind,
  binary: binaryKind,
  gdl90: standardKind({ standard: OPEN_STANDARDS.gdl90, isText: false, holdS: 1.5 }),
  nmea0183: standardKind({ standard: OPEN_STANDARDS.nmea0183, isText: true, holdS: 1.5 }),
  entityState: standardKind<'entityState'>({
    standard: OPEN_STANDARDS.entityState,
    isText: false,
    holdS: 0.5,
    identity: (sender) => sender.split(':').slice(1).join(':'), // the number of the exercise does not matter
    wanted: ({ entity }) => entity && `${entity.site}:${entity.application}:${entity.entity}`,
  }),
  mavlink2: standardKind<'mavlink2'>({
    standard: OPEN_STANDARDS.mavlink2,
    isText: false,
    holdS: 0.5,
    identity: (sender) => sender.split(':')[0] ?? '', // any component of the system
    wanted: ({ systemId }) => (systemId === undefined ? undefined : String(systemId)),
  }),
};

export const DECODER_KINDS = Object.keys(KINDS) as Decoder['kind'][];

/** What is known of a decoder's kind; undefined: there is no reader for it. */
export function kindOf<Kind extends Decoder['kind']>(decoder: DecoderOf<Kind>): DecoderKind<Kind> | undefined {
  return KINDS[decoder.kind as Kind] as DecoderKind<Kind> | undefined;
}

/** A reader for the slots of a profile. @throws {RangeError} If there is none for this kind of decoder. */
export function readerOf(decoder: Decoder, slots: readonly Slot[]): RowReader {
  const kind = kindOf(decoder);
  if (kind === undefined) throw new RangeError(`there is no reader for the decoder "${decoder.kind}"`);
  return kind.reader(decoder, slots);
}
