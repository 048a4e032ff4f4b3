// How a simulator is told: templates of text or bytes, and what is done where it has no command for a failure.
import { z } from 'zod';
import { BinaryNumber, byteOffset, hexBytes } from './binaryNumber.js';
import { host, port } from './linkTransport.js';

/** Every command a link may have. */
export const LINK_COMMAND_NAMES = ['fail', 'setPower', 'throttle', 'restore', 'pause', 'reset', 'begin'] as const;
export type LinkCommandName = (typeof LINK_COMMAND_NAMES)[number];

/** Numbers that may be put into a binary template. */
export const BINARY_VALUES = ['powerFraction', 'throttleFraction'] as const;

export const BinaryTemplate = z.strictObject({
  hex: hexBytes.describe('All bytes of the command, each as two hexadecimal digits; values are written over them'),
  values: z
    .array(
      z.strictObject({
        value: z
          .enum(BINARY_VALUES, `must be ${BINARY_VALUES.join(' or ')}`)
          .describe('What is written there: a share from 0 to 1'),
        offset: byteOffset.describe('Where it begins, in bytes'),
        type: BinaryNumber.describe('Kind of number; whole ones are rounded'),
        littleEndian: z
          .boolean('must be true or false')
          .default(true)
          .describe('true: lowest byte first; false: highest first'),
        scale: z
          .number('must be a number')
          .default(1)
          .describe('Multiplied by this before it is written: 255 fills a uint8'),
      }),
    )
    .max(8)
    .default([])
    .describe('Numbers put into the bytes'),
});
export type BinaryTemplate = z.infer<typeof BinaryTemplate>;

const NO_TEMPLATE = 'must be a text of 1 to 500 characters, or an object with hex (and values)';
const template = z.union([z.string().min(1).max(500), BinaryTemplate], NO_TEMPLATE);
export type CommandTemplate = z.infer<typeof template>;

const FILLED_IN =
  '{powerFraction} becomes the share of take-off power from 0 to 1, {propeller} coarse, stopped or windmillingFine';

export const LinkCommands = z.strictObject({
  host: host.default('127.0.0.1').describe('Where the simulator listens for commands: IP address or host name'),
  port: port
    .optional()
    .describe(
      'UDP port on which the simulator listens for commands. Over websocket and TCP it may be left out: commands then go back over the connection (over TCP, end each text with a line feed)',
    ),
  fail: template.optional().describe(`Text or bytes that take all power away. ${FILLED_IN}`),
  setPower: template
    .optional()
    .describe(
      `Text or bytes that set the power, needed for partial failures; without fail it makes total ones too. ${FILLED_IN}`,
    ),
  throttle: template
    .optional()
    .describe(
      'Text or bytes that set the throttle lever, {throttleFraction} from 0 closed to 1 open; used only where noFailureCommand is cut-throttle',
    ),
  restore: template
    .optional()
    .describe('Text or bytes that give the power back; absent: setPower or throttle with 1, if there is one'),
  pause: template.optional().describe('Text or bytes that pause the simulator, or let it go on'),
  reset: template.optional().describe('Text or bytes that put the aeroplane back to the start'),
  begin: template
    .optional()
    .describe('Text with which a stand-in starts a flight: {scenarioId}, {pilot}, {seed} and {speed} are filled in'),
  noFailureCommand: z
    .enum(['cut-throttle', 'by-hand'], 'must be "cut-throttle" or "by-hand"')
    .optional()
    .describe(
      'For a simulator with no command for a failure. cut-throttle: the command throttle closes the throttle. by-hand: the instructor is told to close it. The recording says which. Absent: no failure can be armed without fail or setPower',
    ),
});
export type LinkCommands = z.infer<typeof LinkCommands>;
