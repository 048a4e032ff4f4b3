// How to talk with one simulator: where its datagrams come in, how they read, and how commands go back.
import { z } from 'zod';
import { identifier, quantity, shortText } from './quantities.js';
import { SAMPLE_CHANNELS } from './sample.js';

const port = z.int('must be a whole number').min(0, 'must be 0 to 65535').max(65_535, 'must be 0 to 65535');
const host = z.string().min(1).max(253);
const NO_ADDRESS = 'must be an IP address such as 127.0.0.1';

export const UdpTransport = z.strictObject({
  kind: z.literal('udp'),
  listenHost: host
    .default('127.0.0.1')
    .describe(
      'Address of this computer on which Stillprop listens: 127.0.0.1 for a simulator on this computer, 0.0.0.0 for one on another',
    ),
  listenPort: port.describe('UDP port to which the simulator sends; 0: any free one (for tests)'),
  allowedSenders: z
    .array(z.union([z.ipv4(NO_ADDRESS), z.ipv6(NO_ADDRESS)]))
    .min(1)
    .default(['127.0.0.1'])
    .describe('IP addresses whose datagrams are read; those of all others are refused and counted'),
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
  slot: z
    .union([z.int().min(0), z.string().min(1)])
    .describe('Delimited: number of the column, from 0, or its name in decoder.columns. JSON: path of keys, with dots'),
  unit: SlotUnit.describe(
    'Unit in which the simulator sends it; it is converted to the one in the name of the channel',
  ),
  scale: z.number().default(1).describe('value × scale + offset, in unit, before conversion; −1 turns the sign round'),
  offset: z.number().default(0).describe('Added after scale, in unit'),
});
export type ChannelSource = z.infer<typeof ChannelSource>;

export const Channel = z.enum(SAMPLE_CHANNELS as [string, ...string[]]);
const channels = z
  .partialRecord(Channel, ChannelSource)
  .describe(
    'Where each channel comes from. Needed: timeS, latitudeDeg, longitudeDeg, altitudeFt, indicatedAirspeedKt, headingDeg (true), ' +
      'bankDeg (right wing down +), pitchDeg (nose up +), verticalSpeedFpm (climb +). heightFt is above the runway, ' +
      'heightAboveGroundFt above the ground beneath, trackDeg true. Whether the power fell is checked by engineRpm or powerFraction',
  );

export const DelimitedDecoder = z.strictObject({
  kind: z.literal('delimited').describe('One sample a line, its values between separators'),
  separator: z.string().min(1).max(4).describe('What stands between two values, such as a comma or a semicolon'),
  decimal: z.enum(['.', ',']).default('.').describe('Decimal mark of the numbers; it must differ from the separator'),
  columns: z.array(z.string()).optional().describe('Names of all columns in order, if slots are given by name'),
  startsWith: z.string().optional().describe('Lines that do not begin with this are passed over; absent: all are read'),
});
export const JsonDecoder = z.strictObject({
  kind: z.literal('json').describe('One JSON object a datagram, or one a line'),
});
export const Decoder = z.discriminatedUnion('kind', [DelimitedDecoder, JsonDecoder]);

const template = z.string().min(1).max(500);
const FILLED_IN =
  '{powerFraction} becomes the share of take-off power from 0 to 1, {propeller} coarse, stopped or windmillingFine';

export const LinkCommands = z.strictObject({
  host: host.default('127.0.0.1').describe('Where the simulator listens for commands: IP address or host name'),
  port: port.describe('UDP port on which the simulator listens for commands'),
  fail: template.optional().describe(`Text that takes all power away. ${FILLED_IN}`),
  setPower: template
    .optional()
    .describe(
      `Text that sets the power, needed for partial failures; without fail it makes total ones too. ${FILLED_IN}`,
    ),
  restore: template.optional().describe('Text that gives the power back; absent: setPower with 1, if there is one'),
  reset: template.optional().describe('Text that puts the aeroplane back to the start'),
  begin: template
    .optional()
    .describe('Text with which a stand-in starts a flight: {scenarioId}, {pilot}, {seed} and {speed} are filled in'),
});
export type LinkCommands = z.infer<typeof LinkCommands>;
export type LinkCommandName = 'fail' | 'setPower' | 'restore' | 'reset' | 'begin';

export const LinkProfile = z.strictObject({
  schemaVersion: z.literal(1).describe('Version of this format'),
  id: identifier.describe('Short name by which recordings tell the link; each link has its own'),
  name: shortText.describe('Name of the simulator, as pages show it'),
  description: z.string().max(1000).default('').describe('What a person should know of this link'),
  transport: z.discriminatedUnion('kind', [UdpTransport]).describe('How datagrams of the simulator come in'),
  decoder: Decoder.describe('How the text in a datagram reads'),
  channels,
  commands: LinkCommands.optional().describe(
    'How the simulator is told. Each is optional, but a failure needs fail or setPower: without both, nothing can be armed but a scenario that draws no failure',
  ),
  expectedRateHz: quantity(1, 200, 'Hz')
    .default(20)
    .describe('Samples a second that the simulator is set to send: by it Stillprop judges when data are late'),
  commandLatencyS: quantity(0, 5, 's')
    .default(0.1)
    .describe(
      'Simulator seconds from a command to the fall of power, so that it falls at the height drawn; from the second failure on the measured time is used',
    ),
  pilots: z.array(identifier).optional().describe('Pilots that a stand-in simulator offers'),
});
export type LinkProfile = z.infer<typeof LinkProfile>;
