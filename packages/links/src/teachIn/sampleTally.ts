// What a profile makes of a stream: samples, refusals by reason, rate, the range of each channel, and what is doubtful.
import { type LinkProfile, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';
import { createDecoder, createPartDecoder, type DecodeFault } from '../decode.js';
import type { SamplePart } from '../partFromRow.js';
import { linkProfileProblem } from '../profileProblem.js';
import type { ChannelName } from '../slotUnits.js';
import { sampleDoubts } from './sampleDoubts.js';

export interface ChannelRange {
  readonly channel: ChannelName;
  readonly lowest: number;
  readonly highest: number;
}

export interface TallyReport {
  readonly messages: number;
  /** Messages that gave at least one sample. */
  readonly good: number;
  /** Messages whose values are kept for a later sample. */
  readonly kept: number;
  readonly samples: number;
  /** Reasons for which messages, or single values in them, were refused, with how often. */
  readonly refused: Readonly<Record<string, number>>;
  /** Samples a second, by the time of arrival; null: too few to tell. */
  readonly rateHz: number | null;
  readonly ranges: readonly ChannelRange[];
  /** A sentence each. */
  readonly doubts: readonly string[];
}

export interface SampleTally {
  /** @param atS When it came, on a steady clock. */
  give(message: Uint8Array, atS: number): void;
  newest(): SamplePart | null;
  report(): TallyReport;
}

/** Doubts are judged on so many samples; of a longer stream every second is left out, again and again. */
const MOST_JUDGED = 4000;

/** @throws {RangeError} If the profile cannot work. One that lacks needed channels is read as a part. */
export function createSampleTally(profile: LinkProfile): SampleTally {
  const alone = linkProfileProblem({ ...profile, merge: undefined, supplement: undefined }) === null;
  const decode = alone ? createDecoder(profile) : createPartDecoder(profile);
  const refused: Record<string, number> = {};
  const ranges = new Map<ChannelName, { lowest: number; highest: number }>();
  let judged: SamplePart[] = [];
  let everyNth = 1;
  let messages = 0;
  let good = 0;
  let kept = 0;
  let samples = 0;
  let firstS: number | null = null;
  let lastS = 0;

  const refuse = ({ code, channel }: DecodeFault) => {
    const name = channel === undefined ? code : `${code} ${channel}`;
    refused[name] = (refused[name] ?? 0) + 1;
  };
  const take = (sample: SamplePart, atS: number) => {
    samples += 1;
    firstS ??= atS;
    lastS = atS;
    for (const channel of SAMPLE_CHANNELS) {
      const value = sample[channel];
      if (value === undefined) continue;
      const number = Number(value);
      const range = ranges.get(channel);
      if (range === undefined) ranges.set(channel, { lowest: number, highest: number });
      else {
        range.lowest = Math.min(range.lowest, number);
        range.highest = Math.max(range.highest, number);
      }
    }
    if (samples % everyNth === 0) judged.push(sample);
    if (judged.length > MOST_JUDGED) {
      judged = judged.filter((_, index) => index % 2 === 0);
      everyNth *= 2;
    }
  };
  const rateHz = () => {
    const spanS = firstS === null ? 0 : lastS - firstS;
    return spanS > 0 && samples > 2 ? (samples - 1) / spanS : null;
  };
  return {
    give: (message, atS) => {
      messages += 1;
      const decoded = decode(message, atS);
      if (!decoded.ok) {
        if (decoded.code === 'kept') kept += 1;
        else refuse(decoded);
        return;
      }
      good += 1;
      for (const fault of decoded.faults) refuse(fault);
      for (const sample of decoded.samples as (SamplePart | Sample)[]) take(sample, atS);
    },
    newest: () => judged.at(-1) ?? null,
    report: () => {
      const rate = rateHz();
      return {
        messages,
        good,
        kept,
        samples,
        refused: { ...refused },
        rateHz: rate,
        ranges: SAMPLE_CHANNELS.flatMap((channel) => {
          const range = ranges.get(channel);
          return range === undefined ? [] : [{ channel, ...range }];
        }),
        doubts: sampleDoubts(profile, judged, rate),
      };
    },
  };
}
