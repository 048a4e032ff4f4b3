// Several links of one aeroplane as one stream of samples, in step with the link that leads.
import { type LinkProfile, REQUIRED_CHANNELS, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';
import { linkSetProblem, providersOf } from './linkSet.js';
import type { SamplePart } from './partFromRow.js';
import type { ChannelName } from './slotUnits.js';

export type Merged =
  | { readonly kind: 'sample'; readonly sample: Sample }
  /** Of a link that does not lead: kept for the samples to come. */
  | { readonly kind: 'kept' }
  /** The leading link's part makes no sample: these required channels are missing or too old. */
  | { readonly kind: 'lacking'; readonly channels: readonly ChannelName[] };

export interface Merger {
  /**
   * Takes a part of one link.
   *
   * @param linkIndex Its place in the set; 0 leads.
   * @param arrivalTimeS When it came, on one steady clock for all links; only differences count.
   */
  give(linkIndex: number, part: SamplePart, arrivalTimeS: number): Merged;
}

const HELD_INTERVALS = 3;
const HELD_LEAST_S = 0.5;

/** How long (s) the newest values of a further link stand in for missing ones. */
export function holdingS({ holdS, expectedRateHz }: LinkProfile): number {
  return holdS ?? Math.max(HELD_LEAST_S, HELD_INTERVALS / expectedRateHz);
}

/**
 * Merges the links of a set. Each part of the leading link makes one sample: its own channels as they came, and those it
 * lacks from the other links' newest values, no older than {@link holdingS}; older ones are missing. Where several links
 * send a channel, the earlier in the set goes before; a calculated value counts only where no link sends the channel.
 * The same parts in the same order give the same samples.
 *
 * @throws {RangeError} If the set cannot be flown ({@link linkSetProblem} says why).
 */
export function createMerger(profiles: readonly LinkProfile[]): Merger {
  const problem = linkSetProblem(profiles);
  if (problem !== null) throw new RangeError(problem.message);
  const providers = SAMPLE_CHANNELS.map((channel) => ({
    channel,
    links: providersOf(channel, profiles).map(({ linkIndex }) => linkIndex),
  }));
  const holdS = profiles.map(holdingS);
  const newest = profiles.map(() => new Map<ChannelName, { readonly value: number | boolean; readonly atS: number }>());

  const heldValue = (linkIndex: number, channel: ChannelName, nowS: number) => {
    const held = newest[linkIndex]?.get(channel);
    return held !== undefined && nowS - held.atS <= (holdS[linkIndex] ?? 0) ? held.value : undefined;
  };
  return {
    give: (linkIndex, part, arrivalTimeS) => {
      if (linkIndex !== 0) {
        const kept = newest[linkIndex];
        if (kept === undefined) throw new RangeError(`linkIndex must be 0 to ${profiles.length - 1}, got ${linkIndex}`);
        for (const [channel, value] of Object.entries(part) as [ChannelName, number | boolean | undefined][]) {
          if (value !== undefined) kept.set(channel, { value, atS: arrivalTimeS });
        }
        return { kind: 'kept' };
      }
      const sample: Record<string, number | boolean> = {};
      for (const { channel, links } of providers) {
        for (const link of links) {
          const value = link === 0 ? part[channel] : heldValue(link, channel, arrivalTimeS);
          if (value === undefined) continue;
          sample[channel] = value;
          break;
        }
      }
      const lacking = REQUIRED_CHANNELS.filter((channel) => sample[channel] === undefined);
      if (lacking.length > 0) return { kind: 'lacking', channels: lacking };
      return { kind: 'sample', sample: sample as unknown as Sample };
    },
  };
}
