// What a crash left in the recordings folder: cut, ended, moved; and what is no recording is kept aside.
import { randomUUID } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type RecordingLine, readRecording, recordingLine } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { makeFolders } from './folders.js';
import { recoverRecordings } from './recoverRecordings.js';
import { demoHeader, demoSample, temporaryFolder } from './testing.fixture.js';

const sample = (timeS: number): RecordingLine => ({ kind: 'sample', ...demoSample(timeS) });
const text = (attemptId: string, ...lines: RecordingLine[]) =>
  [demoHeader(attemptId), ...lines].map(recordingLine).join('');

async function recovered(content: string | Buffer, name: string = randomUUID()) {
  const folders = await makeFolders(temporaryFolder());
  writeFileSync(join(folders.recordings, `${name}.ndjson`), content);
  await recoverRecordings(folders);
  expect(readdirSync(folders.recordings)).toEqual([]);
  const [outbox] = readdirSync(folders.outbox);
  const read = outbox === undefined ? null : readRecording(readFileSync(join(folders.outbox, outbox), 'utf8'));
  return { folders, read };
}

test('cut anywhere behind its header, a recording keeps every whole line and gets an end', async () => {
  const id = randomUUID();
  const whole = Buffer.from(
    text(id, sample(1), sample(2), { kind: 'event', timeS: 2, code: 'lift-off', text: 'ü' }, sample(3)),
  );
  const headerBytes = Buffer.byteLength(text(id));
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: headerBytes, max: whole.length }), async (at) => {
      const cut = whole.subarray(0, at);
      const { read } = await recovered(cut, id);
      if (read === null || !read.ok) throw new Error('not readable');
      const { samples, events, end } = read.recording;
      expect(samples.length + events.length + 1).toBe(cut.toString('latin1').split('\n').length - 1);
      expect(end).toMatchObject({
        reason: 'interrupted',
        samples: samples.length,
        timeS: samples.at(-1)?.timeS ?? null,
      });
    }),
    { numRuns: 40 },
  );
});

test('a recording that had its end is moved as it is', async () => {
  const content = text(randomUUID(), sample(1), {
    kind: 'end',
    timeS: 1,
    reason: 'stopped',
    text: 'Stopped.',
    samples: 1,
  });
  const { folders } = await recovered(content);
  const [name = ''] = readdirSync(folders.outbox);
  expect(readFileSync(join(folders.outbox, name), 'utf8')).toBe(content);
});

test('whole lines behind a broken one are kept aside', async () => {
  const { folders, read } = await recovered(`${text(randomUUID(), sample(1))}\0\0\0\n${recordingLine(sample(2))}`);
  expect(read).toMatchObject({ ok: true, recording: { samples: [{ timeS: 1 }] } });
  const [rest = ''] = readdirSync(folders.refused);
  expect(readFileSync(join(folders.refused, rest), 'utf8')).toContain(recordingLine(sample(2)));
});

test.each([
  ['an empty file', ''],
  ['half a header', '{"kind":"header"'],
  ['something else', 'hello\nworld\n'],
  ['samples without a header', recordingLine(sample(1))],
])('%s goes to refused with the reason beside it', async (_, content) => {
  const { folders, read } = await recovered(content);
  expect(read).toBeNull();
  expect(readdirSync(folders.refused)).toHaveLength(2);
});
