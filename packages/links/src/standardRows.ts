// Messages of an open standard as rows: slots by the name of a channel, or of a field in one kind of message.
import { type Decoder, type DecoderOf, SAMPLE_CHANNELS } from '@stillprop/contracts';
import { continuousTime } from './continuousTime.js';
import type { DecodeCode } from './decode.js';
import type { OpenStandard } from './openStandards.js';
import type { DecoderKind, Row, Slot } from './readers.js';
import type { ChannelName } from './slotUnits.js';
import type { StandardMessage } from './standards.js';

export interface StandardParts<Kind extends Decoder['kind']> {
  readonly standard: OpenStandard;
  readonly isText: boolean;
  /** How long (s) a value told in one message stands beside the position of a later one. */
  readonly holdS: number;
  /** Who it is that sends, of the standard's `sender`; absent: all senders are one. */
  readonly identity?: (sender: string) => string;
  /** The identity that a profile asks for; undefined: the first that is heard. */
  readonly wanted?: (decoder: DecoderOf<Kind>) => string | undefined;
}

/** A clock that counts whole seconds repeats itself within one; one that repeats itself longer stands. */
const STANDS_AFTER_S = 2;

interface Held {
  readonly value: unknown;
  readonly atS: number;
}

/**
 * A decoder kind made of an open standard. A slot is a channel's name (in the channel's unit), or `<kind>.<field>`.
 *
 * Standards tell position, speed and attitude in messages of their own. Where a profile reads latitude, each new position
 * makes a row, and the newest values of other messages stand beside it for `holdS`, but for time, which is the
 * position's own. A second position of the same time only adds what it tells, unless the clock stands still. Where it does not
 * read latitude, each message is a row.
 */
export function standardKind<Kind extends Decoder['kind']>(parts: StandardParts<Kind>): DecoderKind<Kind> {
  const { standard, isText } = parts;
  const given = SAMPLE_CHANNELS.filter((channel) => standard.coverage[channel].given !== 'no');
  return {
    isText,
    problem: () => null,
    slotRule: (_, slot) => {
      const isKnown = given.includes(slot as ChannelName) || /^[A-Za-z0-9_]+\.[A-Za-z0-9_]+$/.test(String(slot));
      return isKnown ? null : `must be ${given.join(', ')}, or <message>.<field> of ${standard.name}`;
    },
    reader: (decoder, slots) => {
      const rowOf = assembler(slots, parts.holdS);
      let followed = parts.wanted?.(decoder);
      const isFollowed = (sender: string) => {
        if (parts.identity === undefined) return true;
        const identity = parts.identity(sender);
        followed ??= identity;
        return identity === followed;
      };
      return (datagram, arrivalTimeS) => {
        const { messages, refused } = standard.decode(datagram);
        const rows: (Row | DecodeCode)[] = refused.length > 0 && messages.length === 0 ? ['damaged'] : [];
        let kept = false;
        for (const message of messages) {
          if (!isFollowed(message.sender)) continue;
          const row = rowOf(message, arrivalTimeS);
          if (row === null) kept = true;
          else rows.push(row);
        }
        return rows.length === 0 && kept ? ['kept'] : rows;
      };
    },
  };
}

function assembler(
  slots: readonly Slot[],
  holdS: number,
): (message: StandardMessage, arrivalTimeS: number) => Row | null {
  const names = slots.map(String);
  const assembles = names.includes('latitudeDeg');
  const held: (Held | undefined)[] = names.map(() => undefined);
  const secondsOf = continuousTime();
  /** Of the newest row: its time, the kind of its message, and when the first of that time came. */
  let last: { readonly timeS: number; readonly kind: string; readonly sinceS: number } | null = null;

  return (message, arrivalTimeS) => {
    const timeS = message.time === undefined ? undefined : secondsOf(message.time);
    const row = names.map((name, index) => {
      if (name === 'timeS') return timeS;
      const value = valueIn(message, name);
      if (value !== undefined) held[index] = { value, atS: arrivalTimeS };
      const old = held[index];
      if (value !== undefined || !assembles || old === undefined) return value;
      return arrivalTimeS - old.atS <= holdS ? old.value : undefined;
    });
    if (!assembles) return row.some((value) => value !== undefined) ? row : null;
    if (message.channels.latitudeDeg === undefined) return null;
    if (timeS === undefined) return row;
    const again = timeS === last?.timeS ? last : null;
    // A clock that stands still must not silence its sender for ever.
    if (again !== null && (again.kind !== message.kind || arrivalTimeS - again.sinceS < STANDS_AFTER_S)) return null;
    last = again ?? { timeS, kind: message.kind, sinceS: arrivalTimeS };
    return row;
  };
}

/** Own properties only, so that no slot reaches into a prototype. */
function valueIn({ kind, channels, fields }: StandardMessage, name: string): unknown {
  if (Object.hasOwn(channels, name)) return channels[name as keyof typeof channels];
  const field = name.startsWith(`${kind}.`) ? name.slice(kind.length + 1) : null;
  return field !== null && Object.hasOwn(fields, field) ? (fields as Record<string, unknown>)[field] : undefined;
}
