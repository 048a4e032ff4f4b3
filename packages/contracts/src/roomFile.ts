// A room: the stations that one bridge serves, each with its links.
import { z } from 'zod';
import { shortText } from './quantities.js';

const path = z.string('must be text').min(1, 'must not be empty').max(1000);

export const RoomFile = z.strictObject({
  schemaVersion: z.literal(1).describe('Version of this format'),
  stations: z
    .array(
      z.strictObject({
        name: shortText.describe('Name of this simulator in lists; each has its own'),
        links: z
          .array(path)
          .min(1, 'must name at least one link file')
          .max(16)
          .describe(
            'Link files of this simulator, as seen from the folder of this file; the first that is flown by itself is open from the start',
          ),
        tokenFile: path
          .optional()
          .describe(
            'File with the token by which a debrief server on another computer knows this station, as seen from the folder of this file; absent: none',
          ),
      }),
    )
    .min(1, 'must name at least one station')
    .max(64, 'must name at most 64 stations')
    .describe('The simulators of the room'),
});
export type RoomFile = z.infer<typeof RoomFile>;
