// What a set of links covers: which channel comes from where, what is derived, and what is lost by each that is missing.
import { type LinkProfile, REQUIRED_CHANNELS, SAMPLE_CHANNELS } from '@stillprop/contracts';
import { CHANNEL_LABELS } from './channelLabels.js';
import { linkSetProblem, type Provider, providersOf } from './linkSet.js';
import { lostBy } from './lost.js';
import { OPEN_STANDARDS, type OpenStandardName } from './openStandards.js';
import { DERIVED_FROM, withoutGiven } from './profileProblem.js';
import type { ChannelName } from './slotUnits.js';

export interface CoveredChannel {
  readonly channel: ChannelName;
  /** The link that gives it first; others of the set stand in where this one misses it. */
  readonly linkId: string;
  /** Sent by the simulator, calculated, or (time) the clock of the bridge. */
  readonly how: Provider['how'];
  /** What a person should know of it: who supplies it, how it is calculated, what a standard means by it. null: nothing. */
  readonly note: string | null;
}

export interface MissingChannel {
  readonly channel: ChannelName;
  /** Without it the set cannot be flown. */
  readonly required: boolean;
  /** What is lost, in one sentence. */
  readonly lost: string;
}

export interface LinkCoverage {
  readonly covered: readonly CoveredChannel[];
  readonly missing: readonly MissingChannel[];
  /** Why the set cannot be flown, in one sentence; null: it can. */
  readonly problem: string | null;
}

/** What links flown together give: the leading one first, in the order of its `merge`. */
export function linkCoverage(profiles: readonly LinkProfile[]): LinkCoverage {
  const covered = SAMPLE_CHANNELS.flatMap((channel): CoveredChannel[] => {
    const provider = providersOf(channel, profiles)[0];
    const profile = provider && profiles[provider.linkIndex];
    if (provider === undefined || profile === undefined) return [];
    return [{ channel, linkId: profile.id, how: provider.how, note: noteOn(channel, provider, profile) }];
  });
  const given = new Set(covered.map(({ channel }) => channel));
  const required = new Set<string>(REQUIRED_CHANNELS);
  const missing = withoutGiven(given).map((channel) => ({
    channel,
    required: required.has(channel),
    lost: lostBy(channel),
  }));
  return { covered, missing, problem: linkSetProblem(profiles)?.message ?? null };
}

function noteOn(channel: ChannelName, { how, linkIndex }: Provider, profile: LinkProfile): string | null {
  if (how === 'arrival') {
    return 'Time is the clock of the bridge when the data come, so a pause looks like standing still.';
  }
  if (how === 'derived') {
    const derivation = profile.derived?.find((each) => each.channel === channel);
    if (derivation === undefined) return null;
    const from = DERIVED_FROM[derivation.channel].map((each) => CHANNEL_LABELS[each]).join(' and ');
    const wind = 'wind' in derivation || !('windowS' in derivation || 'elevationFt' in derivation);
    const lag = 'windowS' in derivation ? `, and lags by about ${derivation.windowS / 2} s` : '';
    return `Derived from ${from}${wind ? ' and a known wind' : ''}${lag}.`;
  }
  const notes = linkIndex === 0 ? [] : [`Supplied by the link "${profile.id}".`];
  return [...notes, ...standardNote(channel, profile)].join(' ') || null;
}

/** What is to be known of a channel that an open standard tells in its own way. */
function standardNote(channel: ChannelName, { decoder, channels }: LinkProfile): string[] {
  if (!Object.hasOwn(OPEN_STANDARDS, decoder.kind) || channels[channel]?.slot !== channel) return [];
  const told = OPEN_STANDARDS[decoder.kind as OpenStandardName].coverage[channel];
  return told.given === 'no' || told.note === '' ? [] : [told.note];
}
