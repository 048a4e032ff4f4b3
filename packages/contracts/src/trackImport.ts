// A track log handed to the debrief server, to be made into a recording, and its answer.
import { z } from 'zod';
import { shortText } from './quantities.js';
import { TrackMapping } from './trackMapping.js';

/** Characters of a log: a day at 10 Hz in any of the formats. */
const LONGEST_LOG = 64 * 1024 * 1024;

export const TrackImportRequest = z.strictObject({
  /** GPX, IGC or NMEA 0183 as it is, or CSV with a mapping. */
  log: z.string().min(1, 'must not be empty').max(LONGEST_LOG, 'must be 64 MB at most: cut it to the one flight'),
  scenarioId: z.string(),
  student: shortText.nullable().default(null),
  /** Loss of power: seconds from the log's first point, or a date and time; absent: at the highest point. */
  failedAt: z.string().min(1).max(40).optional(),
  /** Moment of the first point, where the log has no date. */
  startedAt: z.iso.datetime('must be a date and time like 2026-01-31T09:30:00Z').optional(),
  mapping: TrackMapping.optional(),
});
export type TrackImportRequest = z.infer<typeof TrackImportRequest>;

export const TrackImportAnswer = z.strictObject({
  attemptId: z.uuid(),
  /** Whether this very log was imported before. */
  already: z.boolean(),
  /** What the log cannot tell, one sentence each. */
  notes: z.array(z.string()),
});
export type TrackImportAnswer = z.infer<typeof TrackImportAnswer>;
