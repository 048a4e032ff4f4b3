// Which channels of a sample an open standard gives, how finely, and what is lost for want of the others.
import { REQUIRED_CHANNELS, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';
import { lostBy } from './lost.js';

export interface GivenChannel {
  /** `substitute`: the standard tells something near it; `note` says what differs. */
  readonly given: 'yes' | 'substitute';
  /** Kinds of messages that tell it, the best first. */
  readonly from: readonly string[];
  /** What a person should know of it; '' where there is nothing to say. */
  readonly note: string;
}
export interface LackingChannel {
  readonly given: 'no';
  /** No sample is made without it: a second link must supply it, or it must be derived. */
  readonly required: boolean;
  /** What is lost, in a sentence for the page before the exercise. */
  readonly lost: string;
}
export type StandardCoverage = Readonly<Record<keyof Sample, GivenChannel | LackingChannel>>;

type Given = Readonly<Record<string, GivenChannel>>;

/** `from` gives the channel as a sample wants it. */
export function gives(from: readonly string[], note = ''): GivenChannel {
  return { given: 'yes', from, note };
}

/** `from` gives something near the channel; `note` says what differs. */
export function nearly(from: readonly string[], note: string): GivenChannel {
  return { given: 'substitute', from, note };
}

/** A whole table from the channels given; the others lack, with what is lost by it. */
export function coverageOf(given: { readonly [Name in keyof Sample]?: GivenChannel }): StandardCoverage {
  const table: Given = given;
  return Object.fromEntries(
    SAMPLE_CHANNELS.map((channel) => [
      channel,
      table[channel] ?? { given: 'no', required: REQUIRED_CHANNELS.includes(channel), lost: lostBy(channel) },
    ]),
  ) as StandardCoverage;
}
