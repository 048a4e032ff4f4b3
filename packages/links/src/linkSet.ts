// The links of one aeroplane: the one that leads and those that supply what it lacks, and who gives which channel.
import { type LinkProfile, type Problem, REQUIRED_CHANNELS, SAMPLE_CHANNELS } from '@stillprop/contracts';
import { LOST } from './lost.js';
import { problem } from './problemAt.js';
import { linkPartProblem, linkProfileProblem } from './profileProblem.js';
import type { ChannelName } from './slotUnits.js';

/** The profiles that are flown together: the one that leads, then those it names in `merge`, in that order. */
export type LinkSet =
  | { readonly ok: true; readonly profiles: readonly LinkProfile[] }
  | { readonly ok: false; readonly problem: Problem };

/** Gathers a link's set from all profiles at hand. Whether it can be flown, {@link linkSetProblem} says. */
export function linkSet(lead: LinkProfile, all: readonly LinkProfile[]): LinkSet {
  const profiles = [lead];
  for (const id of lead.merge ?? []) {
    const found = all.find((profile) => profile.id === id);
    if (found === undefined) {
      const ids = all.filter((profile) => profile.id !== lead.id).map((profile) => profile.id);
      return {
        ok: false,
        problem: problem('merge', `must be one of ${ids.join(', ') || 'the links given'}, got "${id}"`),
      };
    }
    profiles.push(found);
  }
  return { ok: true, profiles };
}

/** The first thing that keeps links from being flown together, as one sentence that begins with the link; null: nothing. */
export function linkSetProblem(profiles: readonly LinkProfile[]): Problem | null {
  const [lead] = profiles;
  if (lead === undefined) return problem('links', 'must be at least one, got none');
  if (lead.supplement === true) {
    return problem(`link "${lead.id}"`, 'only supplies channels to others: another link must name it in merge');
  }
  for (const [index, profile] of profiles.entries()) {
    const found = linkPartProblem(profile);
    if (found !== null) return { ...found, message: `link "${profile.id}": ${found.message}` };
    if (profiles.findIndex(({ id }) => id === profile.id) !== index) {
      return problem('id', `must differ from link to link, got "${profile.id}" twice`);
    }
  }
  const missing = REQUIRED_CHANNELS.find((channel) => providersOf(channel, profiles).length === 0);
  if (missing === undefined) return null;
  return problem(`channels.${missing}`, `is missing from ${named(profiles)}: ${LOST[missing]}`);
}

/** The profile that leads, and those flown together with it. */
export type FlownTogether = readonly [LinkProfile, ...LinkProfile[]];

/** Every set a person can choose to fly, in the order of the profiles that lead. */
export type LinkSets =
  | { readonly ok: true; readonly sets: readonly FlownTogether[] }
  /** `linkId` is the profile to blame; the message does not name it. */
  | { readonly ok: false; readonly linkId: string; readonly problem: Problem };

/** Makes the sets of all profiles at hand, or says what keeps one of them from being flown. */
export function linkSets(all: readonly LinkProfile[]): LinkSets {
  for (const [index, profile] of all.entries()) {
    const found = linkPartProblem(profile);
    if (found !== null) return { ok: false, linkId: profile.id, problem: found };
    if (all.findIndex(({ id }) => id === profile.id) === index) continue;
    return { ok: false, linkId: profile.id, problem: problem('id', 'must differ from link to link, got it twice') };
  }
  const sets: FlownTogether[] = [];
  for (const lead of all.filter(({ supplement }) => supplement !== true)) {
    const gathered = linkSet(lead, all);
    const found = gathered.ok
      ? lead.merge === undefined
        ? linkProfileProblem(lead)
        : linkSetProblem(gathered.profiles)
      : gathered.problem;
    if (found !== null) return { ok: false, linkId: lead.id, problem: found };
    if (gathered.ok) sets.push([lead, ...gathered.profiles.slice(1)]);
  }
  const [first] = all;
  if (sets.length > 0 || first === undefined) return { ok: true, sets };
  const rule = 'only supplies channels to others: give the link that names it in merge too';
  return { ok: false, linkId: first.id, problem: problem('supplement', rule) };
}

/** Who gives a channel. */
export interface Provider {
  /** Place in the set; 0 leads. */
  readonly linkIndex: number;
  readonly how: 'sent' | 'derived' | 'arrival';
}

/**
 * Who gives a channel, the first choice first: links that send it in the order of the set, or, where none does, the first
 * that derives it. Time is the leading link's alone: the clocks of two simulators do not agree.
 */
export function providersOf(channel: ChannelName, profiles: readonly LinkProfile[]): Provider[] {
  if (channel === 'timeS') {
    if (profiles[0]?.timeSource === 'arrival') return [{ linkIndex: 0, how: 'arrival' }];
    return profiles[0]?.channels.timeS === undefined ? [] : [{ linkIndex: 0, how: 'sent' }];
  }
  const sent = profiles.flatMap(({ channels }, linkIndex) =>
    channels[channel] === undefined ? [] : [{ linkIndex, how: 'sent' } as const],
  );
  if (sent.length > 0) return sent;
  const linkIndex = profiles.findIndex(({ derived }) => derived?.some((each) => each.channel === channel));
  return linkIndex < 0 ? [] : [{ linkIndex, how: 'derived' }];
}

/** Channels of a set's samples that no simulator sends: for the header of the recording. */
export function derivedChannels(profiles: readonly LinkProfile[]): ChannelName[] {
  return SAMPLE_CHANNELS.filter((channel) => providersOf(channel, profiles)[0]?.how === 'derived');
}

function named(profiles: readonly LinkProfile[]): string {
  const ids = profiles.map(({ id }) => `"${id}"`).join(', ');
  return profiles.length === 1 ? `link ${ids}` : `links ${ids}`;
}
