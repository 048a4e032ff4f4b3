// The whole chain on the stand-in simulator over real UDP: what each scripted pilot's flight scores.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { RecordingHeader, readRecording, Score } from '@stillprop/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { stillprop, until } from '../support/command.js';

async function demo(...words: string[]): Promise<Score> {
  const { code, out, err } = await stillprop(['demo', '--json', '--seed', '7', '--height', '900', ...words]);
  expect(err).toBe('');
  expect(code).toBe(0);
  return Score.parse(JSON.parse(out));
}

/** Flown once, at ten times real time, for all that look at it or are compared with it. */
let dir = '';
let promptScore: Promise<Score> | undefined;
function prompt(): Promise<Score> {
  promptScore ??= demo('--speed', '10', '--pilot', 'prompt', '--keep', join(dir, 'kept'));
  return promptScore;
}
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'stillprop-demo-'));
});
afterAll(() => rmSync(dir, { recursive: true }));

const codes = (score: Score) => score.findings.map((finding) => finding.code);
/** At 20 times real time a flight takes some ten seconds. */
const FLIGHT_MS = 90_000;

test('prompt, at ten times real time: all four criteria measured, and the failure took effect within 10 ft', {
  timeout: FLIGHT_MS,
}, async () => {
  const score = await prompt();
  for (const criterion of Object.values(score.criteria)) {
    expect(criterion.score).not.toBeNull();
    expect(criterion.measured).not.toBeNull();
  }
  expect(Math.abs((score.failure?.heightFt ?? 0) - 900)).toBeLessThan(10);
  expect(score.outcome).toBe('stopped-on-runway');
  expect(score.overall).toBeGreaterThanOrEqual(80);
  expect(score.criteria.delay.measured).toBeGreaterThan(2.5);
  expect(score.criteria.delay.measured).toBeLessThan(3.5);
});

test('hesitant loses on delay', { timeout: FLIGHT_MS }, async () => {
  const [prompted, hesitant] = [await prompt(), await demo('--speed', '20', '--pilot', 'hesitant')];
  expect(hesitant.criteria.delay.score).toBeLessThan((prompted.criteria.delay.score ?? 0) - 30);
  expect(hesitant.criteria.delay.measured).toBeGreaterThan((prompted.criteria.delay.measured ?? 0) + 1.5);
  expect(hesitant.overall).toBeLessThan(prompted.overall ?? 0);
});

test('shallow loses on bank', { timeout: FLIGHT_MS }, async () => {
  const score = await demo('--speed', '20', '--pilot', 'shallow');
  expect(score.criteria.bank.score).toBeLessThan(60);
  expect(score.criteria.bank.measured).toBeLessThan(35);
  expect(score.criteria.bank.score).toBe(Math.min(...Object.values(score.criteria).flatMap((one) => one.score ?? [])));
});

test('overbanked carries a stall', { timeout: FLIGHT_MS }, async () => {
  const score = await demo('--speed', '20', '--pilot', 'overbanked');
  expect(codes(score)).toContain('stall');
  expect(score.overall).toBeLessThanOrEqual(30);
});

test('lands-ahead touches down ahead with the wings level', { timeout: FLIGHT_MS }, async () => {
  const score = await demo('--speed', '20', '--pilot', 'lands-ahead');
  expect(score.outcome).toBe('landed-ahead');
  expect(codes(score)).toContain('landed-ahead');
  expect(codes(score)).not.toContain('bank-at-contact');
  expect(codes(score)).not.toContain('stall');
});

test('never-reacts is told so, and scores nothing', { timeout: FLIGHT_MS }, async () => {
  const score = await demo('--speed', '20', '--pilot', 'never-reacts');
  expect(codes(score)).toContain('no-action');
  expect(score.overall).toBe(0);
});

test('at 20 times real time with 5 % of datagrams lost the score hardly changes', { timeout: FLIGHT_MS }, async () => {
  const whole = await prompt();
  const lossy = await demo('--speed', '20', '--drop', '0.05', '--format', 'json');
  expect(Math.abs((lossy.failure?.heightFt ?? 0) - 900)).toBeLessThan(15);
  expect(Math.abs((lossy.overall ?? 0) - (whole.overall ?? 0))).toBeLessThanOrEqual(5);
  expect(Math.abs((lossy.criteria.bank.measured ?? 0) - (whole.criteria.bank.measured ?? 0))).toBeLessThan(1.5);
});

test('what --keep leaves behind is a recording that scores the same by hand', { timeout: FLIGHT_MS }, async () => {
  const score = await prompt();
  const path = join(dir, 'kept', 'debrief', 'recordings', `${score.attemptId}.ndjson`);
  const text = await until('the recording', 1000, () => readFileSync(path, 'utf8'));
  const read = readRecording(text);
  if (!read.ok) throw new Error(read.problem.message);
  expect(RecordingHeader.safeParse(read.recording.header).success).toBe(true);
  expect(read.recording.end?.reason).toBe('stopped');
  expect(read.recording.end?.samples).toBe(read.recording.samples.length);
  const again = await stillprop(['score', path, '--json']);
  expect(JSON.parse(again.out)).toEqual(score);
});
