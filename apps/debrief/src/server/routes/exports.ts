// GET /api/export/scores.csv and .json, and of one attempt samples.csv and .json: for spreadsheets and other programs.
import { Readable } from 'node:stream';
import {
  ATTEMPT_FILTER,
  AttemptId,
  AttemptSummary,
  SAMPLE_CHANNELS,
  type Sample,
  spreadsheetText,
} from '@stillprop/contracts';
import type { AttemptQuery, AttemptStore } from '@stillprop/store';
import { stringify } from 'csv-stringify';
import { z } from 'zod';
import { ApiFailure } from '../apiFailure.js';
import type { Routes } from '../zodTypes.js';
import { notListed } from './notListed.js';
import { wholeNumber } from './wholeNumber.js';

const PAGE = 500;
const Filter = z.strictObject({
  student: z.string().optional(),
  scenarioId: z.string().optional(),
  rubricId: z.string().optional(),
  rubricRevision: wholeNumber(1, 1_000_000).optional(),
  ...ATTEMPT_FILTER,
});
const CSV = 'text/csv; charset=utf-8';
const JSON_TYPE = 'application/json; charset=utf-8';
const COLUMNS = Object.keys(AttemptSummary.shape);

export const exportRoutes: Routes<{ readonly store: AttemptStore }> = async (app, { store }) => {
  app.get('/export/scores.csv', { schema: { querystring: Filter, produces: [CSV] } }, async ({ query }, reply) =>
    reply
      .type(CSV)
      .header('content-disposition', 'attachment; filename="stillprop-scores.csv"')
      .send(Readable.from(attempts(store, query)).pipe(sheet(COLUMNS))),
  );

  app.get('/export/scores.json', { schema: { querystring: Filter, produces: [JSON_TYPE] } }, async ({ query }, reply) =>
    reply
      .type(JSON_TYPE)
      .header('content-disposition', 'attachment; filename="stillprop-scores.json"')
      .send(Readable.from(asJson(withNotes(store, attempts(store, query))))),
  );

  app.get(
    '/attempts/:id/samples.csv',
    { schema: { params: z.strictObject({ id: AttemptId }), produces: [CSV] } },
    async ({ params: { id } }, reply) =>
      reply
        .type(CSV)
        .header('content-disposition', `attachment; filename="${id}.csv"`)
        .send(Readable.from(await samplesOf(id)).pipe(sheet(SAMPLE_CHANNELS))),
  );

  app.get(
    '/attempts/:id/samples.json',
    { schema: { params: z.strictObject({ id: AttemptId }), produces: [JSON_TYPE] } },
    async ({ params: { id } }, reply) =>
      reply
        .type(JSON_TYPE)
        .header('content-disposition', `attachment; filename="${id}.json"`)
        .send(Readable.from(asJson(await samplesOf(id)))),
  );

  async function samplesOf(id: string): Promise<readonly Sample[]> {
    const kept = await store.recording(id);
    if (kept === undefined) throw await notListed(store, id);
    if ('problem' in kept)
      throw new ApiFailure('NOT_SCORED', `the recording of attempt ${id} is damaged: ${kept.problem}`);
    return kept.recording.samples;
  }
};

/**
 * Rows of comma-separated values. Text that a spreadsheet would take for a formula gets an apostrophe before it; numbers
 * stay numbers, below zero too; what is missing is empty.
 */
function sheet(columns: readonly string[]) {
  return stringify({
    header: true,
    columns: [...columns],
    record_delimiter: 'windows',
    cast: {
      boolean: (value) => (value ? 'true' : 'false'),
      number: (value) => String(value),
      string: spreadsheetText,
    },
  });
}

/** All that match, newest first, page by page: never all in memory. */
async function* attempts(store: AttemptStore, filter: Omit<AttemptQuery, 'limit' | 'before'>) {
  let before: string | undefined;
  for (;;) {
    const page = await store.list({ ...filter, limit: PAGE, ...(before === undefined ? {} : { before }) });
    yield* page.attempts;
    if (page.next === null) return;
    before = page.next;
  }
}

/** Notes that cannot be read are null, not none. */
async function* withNotes({ notes }: AttemptStore, rows: AsyncIterable<AttemptSummary>) {
  for await (const row of rows) {
    const found = await notes.list(row.attemptId);
    yield { ...row, notes: found.ok ? found.notes : null };
  }
}

async function* asJson(rows: AsyncIterable<object> | Iterable<object>) {
  let separator = '[\n';
  for await (const row of rows) {
    yield `${separator}${JSON.stringify(row)}`;
    separator = ',\n';
  }
  yield separator === '[\n' ? '[]\n' : '\n]\n';
}
