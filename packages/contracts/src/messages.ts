// Every message between bridge, debrief server and browser.
import { z } from 'zod';
import { LINK_COMMAND_NAMES } from './linkCommands.js';
import { LinkProfile } from './linkProfile.js';
import { LinkTransport } from './linkTransport.js';
import { identifier, quantity, shortText } from './quantities.js';
import { AttemptId, FailureMeans } from './recording.js';
import { ScenarioBundle } from './scenario.js';
import { Heard } from './teachIn.js';

export const ExerciseStateName = z.enum(['idle', 'armed', 'climbing', 'firing', 'watching', 'disobeyed', 'closed']);
export type ExerciseStateName = z.infer<typeof ExerciseStateName>;

/** What a station shows at this moment. Heights count from the runway (or floor). */
export const LiveState = z.strictObject({
  station: shortText,
  link: z.strictObject({
    profileId: z.string().nullable(),
    state: z.enum(['closed', 'silent', 'receiving', 'stale']),
    rateHz: z.number(),
    received: z.int(),
    /** Datagrams refused, by reason. */
    refused: z.record(z.string(), z.int()),
    /** Datagrams arrive and none is read since the last sample: how many, and in words why the first was refused. */
    refusing: z.strictObject({ count: z.int().min(1), reason: z.string() }).optional(),
  }),
  exercise: z.strictObject({
    state: ExerciseStateName,
    /** What is so now, in words. */
    text: z.string(),
    /** What the pilot or instructor does next, in words. */
    next: z.string(),
  }),
  attemptId: z.string().nullable(),
  scenarioId: z.string().nullable(),
  timeS: z.number().nullable(),
  heightFt: z.number().nullable(),
  indicatedAirspeedKt: z.number().nullable(),
  bankDeg: z.number().nullable(),
  verticalSpeedFpm: z.number().nullable(),
  powerFraction: z.number().nullable(),
  alongFt: z.number().nullable(),
  acrossFt: z.number().nullable(),
  /** The attempt closed last, so that a page can go to its debrief. */
  lastClosed: z.strictObject({ attemptId: z.string(), reason: z.string(), text: z.string() }).nullable(),
  /** Recordings kept until the server acknowledges them. */
  outboxWaiting: z.int(),
  /** Something that must be read now; null: nothing. */
  alarm: z.string().nullable(),
});
export type LiveState = z.infer<typeof LiveState>;

/** What a bridge can do, told when it connects. */
export const BridgeHello = z.strictObject({
  type: z.literal('hello'),
  station: shortText,
  links: z.array(
    z.strictObject({
      id: identifier,
      name: shortText,
      description: z.string(),
      commands: z.array(z.enum(LINK_COMMAND_NAMES)),
      pilots: z.array(z.string()),
      missing: z.array(z.string()).describe('Channels this link cannot give'),
      failureMeans: FailureMeans.exclude(['command'])
        .optional()
        .describe('How a failure is made where no command is made for it; absent: by command, if there is one'),
      notes: z
        .array(z.string())
        .optional()
        .describe(
          'What a person must know before the exercise, a sentence each: what is lost, calculated or done by hand',
        ),
    }),
  ),
});
export type BridgeHello = z.infer<typeof BridgeHello>;
export const BridgeLive = z.strictObject({ type: z.literal('live'), live: LiveState });
export const BridgeAnswer = z.strictObject({
  type: z.literal('answer'),
  id: z.string(),
  ok: z.boolean(),
  message: z.string(),
  attemptId: z.string().nullable(),
  /** The link that was asked for. */
  profile: LinkProfile.optional(),
});
export type BridgeAnswer = z.infer<typeof BridgeAnswer>;
/** What a station hears while a link is taught; null: it does not listen for that. */
export const BridgeHeard = z.strictObject({ type: z.literal('heard'), heard: Heard.nullable() });
/** Bridge to server. A hello may come again: the links have changed. */
export const BridgeMessage = z.discriminatedUnion('type', [BridgeHello, BridgeLive, BridgeHeard, BridgeAnswer]);
export type BridgeMessage = z.infer<typeof BridgeMessage>;

const pilotChoice = {
  pilot: identifier.optional(),
  seed: z
    .int()
    .min(0)
    .max(2 ** 31 - 1)
    .optional(),
  speed: quantity(0.1, 20, '').optional(),
};

/** Teaching a link: these need no scenario, and pass through the server as they are. */
const teachInCommands = [
  z.strictObject({
    command: z.literal('listen'),
    /** Whoever reaches it is heard: its senders are known only afterwards. */
    transport: LinkTransport,
    /** Reads by this profile's decoder and slots instead of guessing. */
    profile: LinkProfile.optional(),
  }),
  z.strictObject({ command: z.literal('stop-listening') }),
  z.strictObject({
    command: z.literal('test-command'),
    /** Its commands say where to and what; the rest may be unfinished. */
    profile: LinkProfile,
    name: z.enum(LINK_COMMAND_NAMES),
  }),
  z.strictObject({ command: z.literal('read-link'), linkId: identifier }),
  z.strictObject({ command: z.literal('save-link'), profile: LinkProfile }),
] as const;

/** What a person asks a station to do. */
export const StationCommand = z.discriminatedUnion('command', [
  z.strictObject({
    command: z.literal('arm'),
    bundle: ScenarioBundle,
    linkId: identifier,
    student: shortText.nullable(),
    /** Seed for drawn heights; the bridge draws one when absent. */
    seed: z
      .int()
      .min(0)
      .max(2 ** 31 - 1)
      .optional(),
    /** Which attempt of a sealed series this is, from 0. */
    seriesIndex: z.int().min(0).optional(),
  }),
  z.strictObject({ command: z.literal('begin'), linkId: identifier, scenarioId: identifier, ...pilotChoice }),
  z.strictObject({ command: z.literal('fail-now') }),
  z.strictObject({ command: z.literal('restore') }),
  z.strictObject({ command: z.literal('reset') }),
  /** Pauses the simulator, or lets it go on. */
  z.strictObject({ command: z.literal('pause') }),
  z.strictObject({ command: z.literal('stop') }),
  ...teachInCommands,
]);
export type StationCommand = z.infer<typeof StationCommand>;

/** What a page asks the server to have a station do: as above, but the scenario by name. */
export const StationRequest = z.discriminatedUnion('command', [
  z.strictObject({
    command: z.literal('arm'),
    scenarioId: identifier,
    linkId: identifier,
    student: shortText.nullable().default(null),
    seed: z
      .int()
      .min(0)
      .max(2 ** 31 - 1)
      .optional(),
    seriesIndex: z.int().min(0).optional(),
  }),
  z.strictObject({ command: z.literal('begin'), linkId: identifier, scenarioId: identifier, ...pilotChoice }),
  z.strictObject({ command: z.literal('fail-now') }),
  z.strictObject({ command: z.literal('restore') }),
  z.strictObject({ command: z.literal('reset') }),
  /** Pauses the simulator, or lets it go on. */
  z.strictObject({ command: z.literal('pause') }),
  z.strictObject({ command: z.literal('stop') }),
  ...teachInCommands,
]);
export type StationRequest = z.infer<typeof StationRequest>;
export const StationAnswer = z.strictObject({
  message: z.string(),
  attemptId: z.string().nullable(),
  profile: LinkProfile.optional(),
});
export type StationAnswer = z.infer<typeof StationAnswer>;

/** Server to bridge. */
export const ServerMessage = z.strictObject({ type: z.literal('do'), id: z.string(), command: StationCommand });
export type ServerMessage = z.infer<typeof ServerMessage>;

/** Server to bridge on receipt of a recording: only after it is safely on disk. */
export const Receipt = z.strictObject({ attemptId: AttemptId, sha256: z.string(), already: z.boolean() });
export type Receipt = z.infer<typeof Receipt>;

/** A station as the pages see it. */
export const Station = z.strictObject({
  station: shortText,
  connected: z.boolean(),
  hello: BridgeHello.nullable(),
  live: LiveState.nullable(),
  /** What it hears while a link is taught; absent: it does not listen for that. */
  heard: Heard.optional(),
});
export type Station = z.infer<typeof Station>;
/** Server to browser. */
export const BrowserMessage = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('stations'), stations: z.array(Station) }),
  z.strictObject({ type: z.literal('attempt-scored'), attemptId: z.string() }),
]);
export type BrowserMessage = z.infer<typeof BrowserMessage>;
