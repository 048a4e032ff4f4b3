// How the columns of a CSV track log become the channels of a track.
import { z } from 'zod';
import { SlotUnit } from './linkChannels.js';
import { SAMPLE_CHANNELS, type Sample } from './sample.js';

/** A header's text, or the column's number from 1. */
const CsvColumn = z.union(
  [z.string().min(1).max(200), z.int().min(1).max(1000)],
  'must be the text of a header or the number of a column from 1',
);

export const TrackMapping = z
  .strictObject({
    schemaVersion: z.literal(1, 'must be 1'),
    separator: z.enum([',', ';', '\t', '|'], 'must be ",", ";", tab or "|"').default(','),
    decimal: z.enum(['.', ','], 'must be "." or ","').default('.'),
    /** Whether the first row names the columns. */
    header: z.boolean('must be true or false').default(true),
    time: z.strictObject({
      column: CsvColumn,
      /** `s`: seconds from any beginning; `iso`: date and time with zone, like 2026-01-31T09:30:00Z. */
      as: z.enum(['s', 'iso'], 'must be "s" or "iso"'),
    }),
    /** What the altitude is. */
    altitudeFrom: z.enum(['gps', 'pressure', 'stated'], 'must be "gps", "pressure" or "stated"').default('stated'),
    columns: z
      .array(
        z.strictObject({
          channel: z.enum(
            SAMPLE_CHANNELS.filter((channel) => channel !== 'timeS') as [keyof Sample],
            'must be a channel of a sample other than timeS',
          ),
          column: CsvColumn,
          unit: SlotUnit,
        }),
      )
      .max(40, 'must be at most 40 columns'),
  })
  .superRefine(({ columns, header, time }, context) => {
    const seen = new Set<string>();
    for (const [i, { channel, column }] of columns.entries()) {
      if (seen.has(channel))
        context.addIssue({ code: 'custom', path: ['columns', i, 'channel'], message: 'must stand once only' });
      seen.add(channel);
      if (!header && typeof column === 'string')
        context.addIssue({
          code: 'custom',
          path: ['columns', i, 'column'],
          message: 'must be a number without a header',
        });
    }
    if (!header && typeof time.column === 'string')
      context.addIssue({ code: 'custom', path: ['time', 'column'], message: 'must be a number without a header' });
    for (const needed of ['latitudeDeg', 'longitudeDeg', 'altitudeFt'])
      if (!seen.has(needed))
        context.addIssue({ code: 'custom', path: ['columns'], message: `must have a column for ${needed}` });
  });
export type TrackMapping = z.infer<typeof TrackMapping>;
