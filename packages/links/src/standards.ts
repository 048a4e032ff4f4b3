// What every decoder of an open standard gives back, whichever the standard: messages, and what was refused and why.
import type { Sample } from '@stillprop/contracts';

/** The part of a sample that one message tells, in the units and signs of a sample. Its time stands apart. */
export type StandardChannels = Partial<Omit<Sample, 'timeS'>>;

/**
 * The time a message tells, by the standard's own clock. That clock starts again after each period (an hour, a day,
 * 2³² ms); `continuousTime` makes seconds of it that only go on.
 */
export interface StandardTime {
  /** Since the period began, s: at least 0, less than `periodS` (a leap second may reach beyond). */
  readonly seconds: number;
  readonly periodS: number;
  /** Whole periods since a fixed moment, where the message tells it: a date. */
  readonly period?: number;
}

/** One message that was read. It holds a part of a sample at most: attitude may come in one and position in another. */
export interface StandardMessage<Kind extends string = string, Fields extends object = object> {
  readonly kind: Kind;
  /** Which of several senders on one wire, as the standard numbers them; '' where it knows one only. */
  readonly sender: string;
  /** Absent where the message has none: then the time of arrival is all there is. */
  readonly time?: StandardTime;
  /** Each inside the bounds of a sample. What the message does not tell, or marks as unknown, is absent. */
  readonly channels: StandardChannels;
  /** All that the message says, with the unit in the name; unknown values are absent, and no number is not finite. */
  readonly fields: Readonly<Fields>;
}

/**
 * Why a part of a datagram was refused: `empty` no bytes, or nothing between flags or line ends; `no-start` bytes that no message begins with; `cut-off` ends
 * before its own end; `escape` broken byte stuffing; `too-long` longer than any message; `no-checksum` it must have
 * one; `checksum` it does not fit; `length` not the length that its kind has; `version` another version of the standard;
 * `flags` needs an ability that this decoder lacks; `field` a field that cannot be read; `out-of-range` a channel beyond
 * the bounds of a sample; `place` a position that is not near the earth's surface.
 */
export type RefusalReason =
  | 'empty'
  | 'no-start'
  | 'cut-off'
  | 'escape'
  | 'too-long'
  | 'no-checksum'
  | 'checksum'
  | 'length'
  | 'version'
  | 'flags'
  | 'field'
  | 'out-of-range'
  | 'place';

export interface Refusal {
  readonly reason: RefusalReason;
  /** Kind of the message, where it is known. */
  readonly kind?: string;
  /** The field or channel that was left out, where the rest of the message was kept. */
  readonly field?: string;
}

export interface StandardDecoded<Message extends StandardMessage = StandardMessage> {
  /** In the order of arrival; a datagram may hold several, and none is no fault. */
  readonly messages: readonly Message[];
  readonly refused: readonly Refusal[];
  /** Sound messages of kinds that tell nothing about the flight. */
  readonly passedOver: number;
}

/** Reads whole datagrams, keeps nothing between them, never throws; its work grows as the datagram's length. */
export type StandardDecoder<Message extends StandardMessage = StandardMessage> = (
  datagram: Uint8Array,
) => StandardDecoded<Message>;
