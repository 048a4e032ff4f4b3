// How to talk with one simulator: where its datagrams come in, how they read, and how commands go back.
import { z } from 'zod';
import { identifier, quantity, shortText } from './quantities.js';
import { SAMPLE_CHANNELS } from './sample.js';

const port = z.int('must be a whole number').min(0, 'must be 0 to 65535').max(65_535, 'must be 0 to 65535');
const host = z.string().min(1).max(253).describe('IP address or host name');

export const UdpTransport = z.strictObject({
  kind: z.literal('udp'),
  listenHost: host.default('127.0.0.1'),
  /** 0: any free port (for tests). */
  listenPort: port,
  /** Only datagrams from these addresses are read. */
  allowedSenders: z.array(z.string()).min(1).default(['127.0.0.1']),
});

/** Units a slot may arrive in. The channel's own unit is in its name. */
export const SlotUnit = z.enum(
  [
    's',
    'ms',
    'ft',
    'm',
    'kt',
    'm/s',
    'km/h',
    'mph',
    'deg',
    'rad',
    'ft/min',
    'ft/s',
    'g',
    'rpm',
    'fraction',
    'percent',
    'bool',
  ],
  'must be a unit name such as ft, m, kt, m/s, km/h, deg, rad, ft/min, s, ms, g, rpm, fraction, percent or bool',
);
export type SlotUnit = z.infer<typeof SlotUnit>;

/** Where one channel comes from: a column number or name (delimited), or a path of keys (JSON). */
export const ChannelSource = z.strictObject({
  slot: z.union([z.int().min(0), z.string().min(1)]).describe('Column from 0, column name, or dotted path'),
  unit: SlotUnit,
  /** value × scale + offset, in the slot's unit, before conversion. A scale of -1 flips the sign. */
  scale: z.number().default(1),
  offset: z.number().default(0),
});
export type ChannelSource = z.infer<typeof ChannelSource>;

export const Channel = z.enum(SAMPLE_CHANNELS as [string, ...string[]]);
const channels = z.partialRecord(Channel, ChannelSource);

export const DelimitedDecoder = z.strictObject({
  kind: z.literal('delimited'),
  separator: z.string().min(1).max(4),
  decimal: z.enum(['.', ',']).default('.'),
  /** Column names in order, if slots are given by name. */
  columns: z.array(z.string()).optional(),
  /** Lines that do not begin with this are passed over. */
  startsWith: z.string().optional(),
});
export const JsonDecoder = z.strictObject({ kind: z.literal('json') });
export const Decoder = z.discriminatedUnion('kind', [DelimitedDecoder, JsonDecoder]);

const template = z
  .string()
  .min(1)
  .max(500)
  .describe('Text sent; {powerFraction}, {propeller}, {scenarioId}, {pilot}, {seed} and {speed} are filled in');

export const LinkCommands = z.strictObject({
  host: host.default('127.0.0.1'),
  port,
  fail: template.optional(),
  setPower: template.optional(),
  restore: template.optional(),
  reset: template.optional(),
  /** Starts a flight by itself: only a stand-in simulator can. */
  begin: template.optional(),
});
export type LinkCommands = z.infer<typeof LinkCommands>;
export type LinkCommandName = 'fail' | 'setPower' | 'restore' | 'reset' | 'begin';

export const LinkProfile = z.strictObject({
  schemaVersion: z.literal(1),
  id: identifier,
  name: shortText,
  description: z.string().max(1000).default(''),
  transport: z.discriminatedUnion('kind', [UdpTransport]),
  decoder: Decoder,
  channels,
  commands: LinkCommands.optional(),
  /** Samples a second that the simulator is set to send. */
  expectedRateHz: quantity(1, 200, 'Hz').default(20),
  /** Command sent to power falling, before any has been measured (simulator seconds). */
  commandLatencyS: quantity(0, 5, 's').default(0.1),
  /** Pilots a stand-in simulator offers. */
  pilots: z.array(identifier).optional(),
});
export type LinkProfile = z.infer<typeof LinkProfile>;
