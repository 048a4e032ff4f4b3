// How to talk with one simulator: how its messages come in, how they read, and how commands go back.
import { z } from 'zod';
import { channels, Derivation } from './linkChannels.js';
import { LinkCommands } from './linkCommands.js';
import { Decoder } from './linkDecoder.js';
import { LinkTransport } from './linkTransport.js';
import { identifier, quantity, shortText } from './quantities.js';

export const LinkProfile = z.strictObject({
  schemaVersion: z.literal(1).describe('Version of this format'),
  id: identifier.describe('Short name by which recordings tell the link; each link has its own'),
  name: shortText.describe('Name of the simulator, as pages show it'),
  description: z.string().max(1000).default('').describe('What a person should know of this link'),
  transport: LinkTransport.describe('How messages of the simulator come in'),
  decoder: Decoder.describe('How a message reads'),
  channels,
  derived: z
    .array(Derivation)
    .max(7)
    .optional()
    .describe(
      'Channels calculated from others of this link, in this order; recordings and scores name them as derived. Absent: none',
    ),
  timeSource: z
    .enum(['simulator', 'arrival'], 'must be "simulator" or "arrival"')
    .optional()
    .describe(
      'simulator: the channel timeS. arrival: the clock of the bridge when the message came, for formats without a time; a pause of the simulator then looks like standing still. Absent: simulator',
    ),
  merge: z
    .array(identifier)
    .min(1, 'must name at least one link, or be left out')
    .max(7)
    .optional()
    .describe(
      'Ids of further links of the same aeroplane that supply what this one lacks; where several give a channel, this one goes before those, in this order. Samples come at the rate of this one',
    ),
  supplement: z
    .boolean('must be true or false')
    .optional()
    .describe('true: this link only supplies channels to another that names it in merge; it is not flown by itself'),
  holdS: quantity(0.05, 10, 's')
    .optional()
    .describe(
      'As a further link: how long its newest values stand in for missing ones; after that they are missing. Absent: three of its intervals, at least 0.5 s',
    ),
  commands: LinkCommands.optional().describe(
    'How the simulator is told. Each is optional, but a failure needs fail, setPower or noFailureCommand: without these, nothing can be armed but a scenario that draws no failure',
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
