// The link profile that is being taught: pure, so that every step can be tested.
import {
  type ChannelSource,
  type Decoder,
  type Heard,
  LinkProfile,
  type Parsed,
  parse,
  type SeenSlot,
  type SlotUnit,
} from '@stillprop/contracts';
import { type ChannelName, channelUnit, type LinkCoverage, linkCoverage, slotFactor } from '@stillprop/links';

export const TAUGHT_COMMANDS = ['fail', 'restore', 'setPower', 'throttle', 'reset', 'pause'] as const;
export type TaughtCommand = (typeof TAUGHT_COMMANDS)[number];

export interface LinkDraft {
  readonly id: string;
  readonly name: string;
  readonly channels: Readonly<Partial<Record<ChannelName, ChannelSource>>>;
  readonly timeByArrival: boolean;
  readonly climbFromAltitude: boolean;
  readonly commandHost: string;
  /** As typed. */
  readonly commandPort: string;
  readonly commands: Readonly<Partial<Record<TaughtCommand, string>>>;
  readonly noFailureCommand: '' | 'by-hand' | 'cut-throttle';
  /** A profile that is changed: what the page does not show of it is kept. */
  readonly base: LinkProfile | null;
}

export const EMPTY_DRAFT: LinkDraft = {
  id: '',
  name: '',
  channels: {},
  timeByArrival: false,
  climbFromAltitude: false,
  commandHost: '127.0.0.1',
  commandPort: '',
  commands: {},
  noFailureCommand: '',
  base: null,
};

/** A short name made of the one a person typed: `My simulator!` becomes `my-simulator`. */
export function idOf(name: string): string {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+/, '')
    .slice(0, 64)
    .replace(/-+$/, '');
}

/** A slot gives a channel from now on; the channel it gave before is free again. */
export function assigned(
  draft: LinkDraft,
  slot: SeenSlot['slot'],
  channel: ChannelName | null,
  how: { readonly unit?: SlotUnit; readonly scale?: number } = {},
): LinkDraft {
  const channels = Object.fromEntries(Object.entries(draft.channels).filter(([, source]) => source.slot !== slot));
  if (channel === null) return { ...draft, channels };
  const source: ChannelSource = { slot, unit: how.unit ?? channelUnit(channel), scale: how.scale ?? 1, offset: 0 };
  return { ...draft, channels: { ...channels, [channel]: source } };
}

export function changed(draft: LinkDraft, channel: ChannelName, part: Partial<ChannelSource>): LinkDraft {
  const source = draft.channels[channel];
  if (source === undefined) return draft;
  return { ...draft, channels: { ...draft.channels, [channel]: { ...source, ...part } } };
}

export function without(draft: LinkDraft, channel: ChannelName): LinkDraft {
  const { [channel]: _, ...channels } = draft.channels;
  return { ...draft, channels };
}

/** Takes every suggestion for a channel that has no slot yet. */
export function withSuggestions(draft: LinkDraft, slots: readonly SeenSlot[]): LinkDraft {
  return slots.reduce((taken, { slot, suggestion }) => {
    if (suggestion === null || taken.channels[suggestion.channel as ChannelName] !== undefined) return taken;
    return assigned(taken, slot, suggestion.channel as ChannelName, suggestion);
  }, draft);
}

/** What a channel is at this moment, in its own unit; null: its slot has no number. */
export function valueNow(channel: ChannelName, source: ChannelSource, slots: readonly SeenSlot[]): number | null {
  const raw = rawNow(source, slots);
  if (raw === null) return null;
  return (raw * source.scale + source.offset) * (slotFactor(source.unit, channel) ?? Number.NaN);
}

export function rawNow(source: ChannelSource, slots: readonly SeenSlot[]): number | null {
  const newest = slots.find(({ slot }) => slot === source.slot)?.newest;
  return typeof newest === 'number' || typeof newest === 'boolean' ? Number(newest) : null;
}

/** The profile as far as it is: null where not even its form is right. */
export function profileOf(draft: LinkDraft, heard: Heard | null): Parsed<LinkProfile> {
  const { base } = draft;
  const decoder: Decoder | undefined = base?.decoder ?? (heard === null ? undefined : (heard.decoder ?? undefined));
  const commandPort = draft.commandPort.trim();
  const texts = Object.fromEntries(Object.entries(draft.commands).filter(([, text]) => text !== ''));
  const hasCommands = Object.keys(texts).length > 0 || draft.noFailureCommand !== '' || base?.commands !== undefined;
  const kept = Object.fromEntries(
    Object.entries(base?.commands ?? {}).filter(([name, value]) => typeof value === 'object' || name === 'begin'),
  );
  const derived = [
    ...(base?.derived?.filter(({ channel }) => channel !== 'verticalSpeedFpm') ?? []),
    ...(draft.climbFromAltitude && draft.channels.verticalSpeedFpm === undefined
      ? [{ channel: 'verticalSpeedFpm', windowS: 1 }]
      : []),
  ];
  const { commands: _, derived: __, timeSource: ___, ...rest } = base ?? ({} as Partial<LinkProfile>);
  return parse(
    LinkProfile,
    {
      ...rest,
      schemaVersion: 1,
      id: draft.id === '' ? 'unnamed' : draft.id,
      name: draft.name === '' ? 'Unnamed' : draft.name,
      description: base?.description ?? 'Taught on the page Link.',
      transport: transportOf(base, heard),
      decoder,
      channels: draft.channels,
      ...(derived.length > 0 ? { derived } : {}),
      ...(draft.timeByArrival && draft.channels.timeS === undefined ? { timeSource: 'arrival' } : {}),
      ...(hasCommands
        ? {
            commands: {
              ...kept,
              host: draft.commandHost.trim(),
              ...(commandPort === '' ? {} : { port: Number(commandPort) }),
              ...texts,
              ...(draft.noFailureCommand === '' ? {} : { noFailureCommand: draft.noFailureCommand }),
            },
          }
        : {}),
      expectedRateHz: base?.expectedRateHz ?? rateOf(heard),
    },
    'the link',
  );
}

/** Where it was heard. The address of a sender that was heard is let in beside those of the profile that is changed. */
function transportOf(base: LinkProfile | null, heard: Heard | null) {
  if (heard === null) return base?.transport;
  const { transport } = heard;
  if (!('allowedSenders' in transport)) return transport;
  const known = base === null ? [] : transport.allowedSenders;
  return { ...transport, allowedSenders: [...new Set([...known, heard.sender ?? '127.0.0.1'])] };
}

/** What comes at this moment may be a little more or less than the simulator is set to. */
function rateOf(heard: Heard | null): number {
  return Math.min(200, Math.max(1, Math.round(heard?.rateHz ?? 20)));
}

/** What would be covered if it were saved as it is. */
export function coverageOf(profile: Parsed<LinkProfile>): LinkCoverage | null {
  return profile.ok ? linkCoverage([profile.value]) : null;
}

/** A profile on the page, to be changed. */
export function draftOf(profile: LinkProfile): LinkDraft {
  const { commands } = profile;
  return {
    id: profile.id,
    name: profile.name,
    channels: profile.channels as LinkDraft['channels'],
    timeByArrival: profile.timeSource === 'arrival',
    climbFromAltitude: profile.derived?.some(({ channel }) => channel === 'verticalSpeedFpm') ?? false,
    commandHost: commands?.host ?? '127.0.0.1',
    commandPort: commands?.port === undefined ? '' : String(commands.port),
    commands: Object.fromEntries(
      TAUGHT_COMMANDS.flatMap((name) => {
        const template = commands?.[name];
        return typeof template === 'string' ? [[name, template]] : [];
      }),
    ),
    noFailureCommand: commands?.noFailureCommand ?? '',
    base: profile,
  };
}

/** Names of channels as people say them, with the unit in which the page shows them. */
export const CHANNEL_WORDS: Readonly<Record<ChannelName, string>> = {
  timeS: 'Time, s',
  latitudeDeg: 'Latitude, degrees',
  longitudeDeg: 'Longitude, degrees',
  altitudeFt: 'Altitude, ft',
  heightFt: 'Height above the runway, ft',
  heightAboveGroundFt: 'Height above the ground, ft',
  indicatedAirspeedKt: 'Indicated airspeed, kt',
  trueAirspeedKt: 'True airspeed, kt',
  groundspeedKt: 'Groundspeed, kt',
  trackDeg: 'Track, degrees true',
  headingDeg: 'Heading, degrees true',
  bankDeg: 'Bank, degrees, right +',
  pitchDeg: 'Pitch, degrees, up +',
  verticalSpeedFpm: 'Vertical speed, ft/min, climb +',
  loadFactor: 'Load, g',
  engineRpm: 'Engine, rpm',
  powerFraction: 'Power, 0 to 1',
  gearFraction: 'Landing gear, 0 up to 1 down',
  flapFraction: 'Flaps, 0 to 1',
  onGround: 'On the ground, yes or no',
  stallWarning: 'Stall warning, yes or no',
};
export const CHANNEL_NAMES = Object.keys(CHANNEL_WORDS) as ChannelName[];
