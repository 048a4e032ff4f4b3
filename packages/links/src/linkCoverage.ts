// What a set of links covers: which channel comes from where, what is derived, and what is lost by each that is missing.
import { type LinkProfile, REQUIRED_CHANNELS, SAMPLE_CHANNELS } from '@stillprop/contracts';
import { linkSetProblem, type Provider, providersOf } from './linkSet.js';
import { LOST } from './lost.js';
import { DERIVED_FROM, withoutGiven } from './profileProblem.js';
import type { ChannelName } from './slotUnits.js';

export interface CoveredChannel {
  readonly channel: ChannelName;
  /** The link that gives it first; others of the set stand in where this one misses it. */
  readonly linkId: string;
  /** Sent by the simulator, calculated, or (time) the clock of the bridge. */
  readonly how: Provider['how'];
  /** One sentence for what is not simply sent; null: it is. */
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
    lost: sentence(LOST[channel]),
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
    const from = DERIVED_FROM[derivation.channel].join(' and ');
    const wind = 'wind' in derivation || !('windowS' in derivation || 'elevationFt' in derivation);
    const lag = 'windowS' in derivation ? `, and lags by about ${derivation.windowS / 2} s` : '';
    return `Derived from ${from}${wind ? ' and a known wind' : ''}${lag}.`;
  }
  return linkIndex === 0 ? null : `Supplied by the link "${profile.id}".`;
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
