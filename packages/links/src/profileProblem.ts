// What in a link profile cannot work, although each field by itself is well formed; and which channels it cannot give.
import {
  type Derivation,
  type LinkProfile,
  type Problem,
  REQUIRED_CHANNELS,
  SAMPLE_CHANNELS,
} from '@stillprop/contracts';
import { problem } from './problemAt.js';
import { DECODER_KINDS, kindOf } from './readers.js';
import { type ChannelName, slotFactor, unitsFor } from './slotUnits.js';
import { commandsProblem } from './templateProblem.js';
import { transportProblem } from './transportProblem.js';

/** Channels that this profile gives, by a slot, a calculation or the clock of the bridge. */
export function givenChannels(profile: LinkProfile): ReadonlySet<ChannelName> {
  const sent = SAMPLE_CHANNELS.filter((channel) => profile.channels[channel] !== undefined);
  const derived = (profile.derived ?? []).map(({ channel }) => channel);
  return new Set([...sent, ...derived, ...(profile.timeSource === 'arrival' ? (['timeS'] as const) : [])]);
}

/** Channels that this profile does not give, and that would add something to what it does give. */
export function missingChannels(profile: LinkProfile): ChannelName[] {
  return withoutGiven(givenChannels(profile));
}

/** Channels beyond those given that would add something to them. */
export function withoutGiven(given: ReadonlySet<ChannelName>): ChannelName[] {
  // Height above the ground only helps where neither contact nor height above the runway is told.
  const groundTold = given.has('heightFt') || given.has('onGround');
  return SAMPLE_CHANNELS.filter((channel) => !given.has(channel) && !(channel === 'heightAboveGroundFt' && groundTold));
}

/**
 * The first thing in a profile that cannot work, as one sentence; null: nothing. One that is not flown by itself may lack
 * any channel: the set of links it belongs to is judged by `linkSetProblem`.
 */
export function linkProfileProblem(profile: LinkProfile): Problem | null {
  const found = linkPartProblem(profile);
  if (found !== null || profile.supplement === true || profile.merge !== undefined) return found;
  const given = givenChannels(profile);
  const missing = REQUIRED_CHANNELS.find((channel) => !given.has(channel));
  return missing === undefined ? null : problem(`channels.${missing}`, 'is missing: without it no sample can be made');
}

/** The first thing in a profile that cannot work, whatever other links supply; null: nothing. */
export function linkPartProblem(profile: LinkProfile): Problem | null {
  return (
    channelProblem(profile) ??
    timeProblem(profile) ??
    decoderProblem(profile) ??
    transportProblem(profile) ??
    derivedProblem(profile) ??
    commandsProblem(profile) ??
    setProblem(profile)
  );
}

function channelProblem(profile: LinkProfile): Problem | null {
  for (const channel of SAMPLE_CHANNELS) {
    const source = profile.channels[channel];
    if (source === undefined) continue;
    const { unit, scale, offset, clamp } = source;
    if (slotFactor(unit, channel) === null) {
      return problem(`channels.${channel}.unit`, `must be one of ${unitsFor(channel).join(', ')}, got "${unit}"`);
    }
    if (scale === 0 || !Number.isFinite(scale) || !Number.isFinite(offset)) {
      const field = `channels.${channel}.scale`;
      return problem(field, `must be a number other than 0, with a finite offset, got ${scale}`);
    }
    if (clamp !== undefined && !(clamp[0] < clamp[1])) {
      return problem(`channels.${channel}.clamp`, `must be a lower and a higher number, got [${clamp.join(', ')}]`);
    }
  }
  return Object.keys(profile.channels).length > 0
    ? null
    : problem('channels', 'must name at least one channel, got {}');
}

function timeProblem({ timeSource, channels }: LinkProfile): Problem | null {
  if (timeSource !== 'arrival' || channels.timeS === undefined) return null;
  return problem(
    'channels.timeS',
    'must be left out where timeSource is "arrival": the clock of the bridge is the time',
  );
}

function decoderProblem({ decoder, channels }: LinkProfile): Problem | null {
  const kind = kindOf(decoder);
  if (kind === undefined) {
    return problem('decoder.kind', `must be ${DECODER_KINDS.join(', ')}, got "${decoder.kind}"`);
  }
  const found = kind.problem(decoder);
  if (found !== null) return found;
  for (const channel of SAMPLE_CHANNELS) {
    const slot = channels[channel]?.slot;
    const rule = slot === undefined ? null : kind.slotRule(decoder, slot);
    if (rule !== null) return problem(`channels.${channel}.slot`, `${rule}, got ${JSON.stringify(slot)}`);
  }
  return null;
}

/** Channels that a calculation starts from. */
export const DERIVED_FROM: Readonly<Record<Derivation['channel'], readonly ChannelName[]>> = {
  verticalSpeedFpm: ['altitudeFt'],
  trackDeg: ['latitudeDeg', 'longitudeDeg'],
  groundspeedKt: ['latitudeDeg', 'longitudeDeg'],
  headingDeg: ['groundspeedKt', 'trackDeg'],
  trueAirspeedKt: ['groundspeedKt', 'trackDeg'],
  indicatedAirspeedKt: ['groundspeedKt', 'trackDeg', 'altitudeFt'],
  heightFt: ['altitudeFt'],
};

function derivedProblem({ channels, derived = [] }: LinkProfile): Problem | null {
  const known = new Set<string>(Object.keys(channels));
  for (const [index, { channel }] of derived.entries()) {
    if (known.has(channel)) {
      const rule = 'must be a channel that is neither in channels nor derived before';
      return problem(`derived[${index}].channel`, `${rule}, got "${channel}"`);
    }
    const lacking = DERIVED_FROM[channel].find((from) => !known.has(from));
    if (lacking !== undefined) {
      const rule = `needs ${lacking}: give it in channels, or derive it before`;
      return problem(`derived[${index}].channel`, `${rule}, got "${channel}"`);
    }
    known.add(channel);
  }
  return null;
}

function setProblem({ id, merge, supplement }: LinkProfile): Problem | null {
  if (merge === undefined) return null;
  if (supplement === true)
    return problem('merge', 'must be left out where supplement is true: that link leads no others');
  if (merge.includes(id)) return problem('merge', `must name other links than this one, got "${id}"`);
  const twice = merge.find((other, index) => merge.indexOf(other) !== index);
  return twice === undefined ? null : problem('merge', `must name each link once, got "${twice}" twice`);
}
