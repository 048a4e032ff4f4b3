// What in a link profile cannot work, although each field by itself is well formed; and which channels it cannot give.
import {
  type LinkCommandName,
  type LinkProfile,
  type Problem,
  REQUIRED_CHANNELS,
  SAMPLE_CHANNELS,
} from '@stillprop/contracts';
import { type ChannelName, slotFactor, unitsFor } from './slotUnits.js';

/** Names that a command template may ask for. */
export const TEMPLATE_VALUES = ['powerFraction', 'propeller', 'scenarioId', 'pilot', 'seed', 'speed'] as const;
export type TemplateValue = (typeof TEMPLATE_VALUES)[number];
export const COMMAND_NAMES: readonly LinkCommandName[] = ['fail', 'setPower', 'restore', 'reset', 'begin'];
export const PLACEHOLDER = /\{([^{}]*)\}/g;

/** Channels that no slot of this profile fills, and that would add something to what it does fill. */
export function missingChannels(profile: LinkProfile): ChannelName[] {
  const { channels } = profile;
  // Height above the ground only helps where neither contact nor height above the runway is told.
  const groundTold = channels.heightFt !== undefined || channels.onGround !== undefined;
  return SAMPLE_CHANNELS.filter(
    (channel) => channels[channel] === undefined && !(channel === 'heightAboveGroundFt' && groundTold),
  );
}

/** Commands that this profile can send. */
export function linkCommands(profile: LinkProfile): LinkCommandName[] {
  return COMMAND_NAMES.filter((name) => profile.commands?.[name] !== undefined);
}

/** The first thing in a profile that cannot work, as one sentence; null: nothing. */
export function linkProfileProblem(profile: LinkProfile): Problem | null {
  return channelProblem(profile) ?? decoderProblem(profile) ?? templateProblem(profile);
}

function channelProblem(profile: LinkProfile): Problem | null {
  for (const channel of REQUIRED_CHANNELS) {
    if (profile.channels[channel] === undefined) {
      return problem(`channels.${channel}`, 'is missing: without it no sample can be made');
    }
  }
  for (const channel of SAMPLE_CHANNELS) {
    const source = profile.channels[channel];
    if (source === undefined) continue;
    if (slotFactor(source.unit, channel) === null) {
      const field = `channels.${channel}.unit`;
      return problem(field, `must be one of ${unitsFor(channel).join(', ')}, got "${source.unit}"`);
    }
    if (source.scale === 0 || !Number.isFinite(source.scale) || !Number.isFinite(source.offset)) {
      const field = `channels.${channel}.scale`;
      return problem(field, `must be a number other than 0, with a finite offset, got ${source.scale}`);
    }
  }
  return null;
}

function decoderProblem(profile: LinkProfile): Problem | null {
  const { decoder } = profile;
  if (decoder.kind !== 'delimited') return null;
  if (decoder.separator.includes(decoder.decimal)) {
    return problem('decoder.separator', `must differ from the decimal mark "${decoder.decimal}"`);
  }
  if (/[\r\n]/.test(decoder.separator))
    return problem('decoder.separator', 'must not be a line break: lines are samples');
  for (const channel of SAMPLE_CHANNELS) {
    const slot = profile.channels[channel]?.slot;
    if (typeof slot === 'number' && decoder.columns !== undefined && slot >= decoder.columns.length) {
      const last = decoder.columns.length - 1;
      return problem(`channels.${channel}.slot`, `must be 0 to ${last}, a column in decoder.columns, got ${slot}`);
    }
    if (typeof slot !== 'string' || decoder.columns?.includes(slot)) continue;
    return problem(`channels.${channel}.slot`, `must be a column number or a name in decoder.columns, got "${slot}"`);
  }
  return null;
}

function templateProblem(profile: LinkProfile): Problem | null {
  for (const name of COMMAND_NAMES) {
    for (const [, value = ''] of (profile.commands?.[name] ?? '').matchAll(PLACEHOLDER)) {
      if ((TEMPLATE_VALUES as readonly string[]).includes(value)) continue;
      return problem(`commands.${name}`, `may ask for {${TEMPLATE_VALUES.join('}, {')}}, got "{${value}}"`);
    }
  }
  return null;
}

function problem(field: string, what: string): Problem {
  return { field, message: `${field} ${what}` };
}
