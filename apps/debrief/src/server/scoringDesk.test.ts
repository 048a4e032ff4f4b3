// The scoring desk: one at a time, what is waited for first, each once, and anew when the recording has grown.

import type { AttemptSummary } from '@stillprop/contracts';
import { type Recording, readRecording } from '@stillprop/contracts';
import type { StoredAttempt } from '@stillprop/store';
import { expect, test } from 'vitest';
import { countingScoring, recordingText } from './attempt.fixture.js';
import { ScoringAway, scoringDesk } from './scoringDesk.js';

const IDS = ['1', '2', '3', '4'].map((digit) => `${digit.repeat(8)}-0000-4000-8000-000000000000`);
const [FIRST = '', SECOND = '', THIRD = '', FOURTH = ''] = IDS;

function recordingOf(attemptId: string, samples: number): Recording {
  const read = readRecording(recordingText({ attemptId, samples }));
  if (!read.ok) throw new Error(read.problem.message);
  return read.recording;
}

/** A store in memory; the hash of a recording is its number of samples. */
function setUp() {
  const samples = new Map(IDS.map((id) => [id, 5]));
  const kept = new Map<string, StoredAttempt>(
    IDS.map((id) => [id, { row: { attemptId: id, engineRevision: null } as AttemptSummary, score: null }]),
  );
  const { scoring, scored } = countingScoring();
  const told: string[] = [];
  const logged: string[] = [];
  const hooks = { afterRead: (_attemptId: string) => {} };
  const desk = scoringDesk({
    store: {
      get: async (id) => kept.get(id),
      async recording(id) {
        const recording = recordingOf(id, samples.get(id) ?? 0);
        const sha256 = String(samples.get(id));
        hooks.afterRead(id);
        return { recording, sha256 };
      },
      async saveScore(id, sha256, result) {
        if (sha256 !== String(samples.get(id))) return false;
        const row = { attemptId: id, engineRevision: result.engineRevision } as AttemptSummary;
        kept.set(id, { row, score: 'problem' in result ? null : result });
        return true;
      },
    },
    scoring,
    onScored: (id) => told.push(id),
    log: (line) => logged.push(line),
  });
  return { desk, scored, told, logged, samples, hooks, scoring };
}

test('attempts are scored in the order they came, each once, and told', async () => {
  const { desk, scored, told } = setUp();
  for (const id of [...IDS, ...IDS]) desk.add(id);
  await expect.poll(() => told).toEqual(IDS);
  for (const id of IDS) desk.add(id);
  await desk.scored(FOURTH);
  expect(scored).toEqual(IDS);
});

test('an attempt that is waited for goes before those that merely wait', async () => {
  const { desk, told, scored } = setUp();
  for (const id of IDS) desk.add(id);
  expect((await desk.scored(FOURTH))?.score?.overall).toBe(5);
  await expect.poll(() => told.length).toBe(4);
  expect(scored).toEqual([FIRST, FOURTH, SECOND, THIRD]);
});

test('one that is being scored is waited for, and not scored again', async () => {
  const { desk, scored } = setUp();
  desk.add(FIRST);
  await new Promise((resolve) => setImmediate(resolve));
  const [one, other] = await Promise.all([desk.scored(FIRST), desk.scored(FIRST)]);
  expect([one?.score?.overall, other?.score?.overall]).toEqual([5, 5]);
  expect(scored).toEqual([FIRST]);
});

test('a recording that grew while it was scored is scored again as it now is', async () => {
  const { desk, hooks, samples, told, scored } = setUp();
  hooks.afterRead = (id) => {
    if (scored.length === 0) samples.set(id, 9);
  };
  desk.add(FIRST);
  await expect.poll(() => told).toEqual([FIRST]);
  expect((await desk.scored(FIRST))?.score?.overall).toBe(9);
  expect(scored).toEqual([FIRST, FIRST]);
});

test('a store that fails once is told, and the next attempt is scored', async () => {
  const { desk, hooks, told, logged } = setUp();
  hooks.afterRead = (id) => {
    if (id === FIRST) throw new Error('the disk is gone');
  };
  desk.add(FIRST);
  desk.add(SECOND);
  await expect.poll(() => told).toEqual([SECOND]);
  expect(logged).toEqual([`attempt ${FIRST} could not be scored now: Error: the disk is gone`]);
});

test('an attempt is left unscored when the scoring, and not the attempt, is at fault', async () => {
  const { desk, told, logged, scoring } = setUp();
  const real = scoring.scoreRecording;
  scoring.scoreRecording = (recording) => {
    if (recording.header.attemptId === FIRST) throw new ScoringAway('the scoring cannot start: it is not there');
    return real(recording);
  };
  desk.add(FIRST);
  desk.add(SECOND);
  await expect.poll(() => told).toEqual([SECOND]);
  expect(logged).toEqual([
    `attempt ${FIRST} could not be scored now: ScoringAway: the scoring cannot start: it is not there`,
  ]);
  scoring.scoreRecording = real;
  expect((await desk.scored(FIRST))?.score?.overall).toBe(5);
});

test('closing ends a scoring that can be ended, and its attempt stays unscored', async () => {
  const { desk, told, scoring } = setUp();
  let stop = (_error: Error) => {};
  scoring.scoreRecording = () =>
    new Promise((_, reject) => {
      stop = reject;
    });
  scoring.close = async () => stop(new ScoringAway('the server is closing'));
  desk.add(FIRST);
  await new Promise((resolve) => setTimeout(resolve, 20));
  await desk.close();
  expect(told).toEqual([]);
});

test('closing waits for the one being scored and starts no other; who waits is let go', async () => {
  const { desk, scored } = setUp();
  for (const id of IDS) desk.add(id);
  const waiting = desk.scored(FOURTH);
  await desk.close();
  expect((await waiting)?.score).toBeNull();
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect(scored).toEqual([FIRST]);
});

test('an attempt that is not kept is not found', async () => {
  expect(await setUp().desk.scored('nowhere')).toBeUndefined();
});
