// `stillprop fly` and `stillprop plan` from a moment of a recording: the same state, the same answers, its refusals.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { inTemporaryFolder, ROOT, stillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';

const withRecording = (use: (path: string) => Promise<void>) =>
  inTemporaryFolder(async (dir) => {
    const path = join(dir, 'flown.ndjson');
    writeFileSync(path, flownRecordingText({ heightFt: 900 }));
    await use(path);
  });

const json = async (words: readonly string[]) => {
  const { code, out, err } = await stillprop([...words, '--json']);
  expect(code, err).toBe(0);
  return JSON.parse(out);
};

test('fly starts where the power fell, and agrees with the verdict of the score', () =>
  withRecording(async (path) => {
    const flown = await json(['fly', '--from', path]);
    const { verdict } = await json(['score', path]);
    expect(flown.failure.heightFt).toBeGreaterThan(850);
    expect(flown.failure.heightFt).toBeLessThan(950);
    expect(flown.from).toMatchObject({ recording: path, start: { heightFt: flown.failure.heightFt } });
    expect(flown.outcome === 'stopped-on-runway').toBe(verdict.returnExisted);
  }));

test('plan tells the height there was against the height needed, and both agree with the score', () =>
  withRecording(async (path) => {
    const plan = await json(['plan', '--from', path]);
    const { verdict } = await json(['score', path]);
    expect(plan.from.timeS).toBeGreaterThan(0);
    expect(plan.from.start.heightFt).toBeCloseTo(verdict.hadFt, 0);
    // Two searches of the same edge, one of them to 2 ft.
    expect(Math.abs(plan.lowestReturnFt - verdict.neededFt)).toBeLessThanOrEqual(6);
    expect(plan.climbs).toBeNull();
    const { out } = await stillprop(['plan', '--from', path]);
    expect(out).toMatch(/A return needed +[\d,]+ ft: [\d,]+ ft (too few|to spare)/);
    expect(out).not.toContain('CLIMB SPEED');
  }));

test('another time and another technique are flown from there', () =>
  withRecording(async (path) => {
    const first = await json(['fly', '--from', path]);
    const technique = join(path, '../technique.json');
    writeFileSync(technique, JSON.stringify({ climbKcas: 92, targetKcas: 85, bankDeg: 30 }));
    const at = (first.from.timeS - 5).toFixed(1);
    const earlier = await json(['fly', '--from', path, '--at', at]);
    expect(earlier.from.timeS).toBe(Number(at));
    expect(earlier.failure.heightFt).toBeLessThan(first.failure.heightFt - 50);
    const shallower = await json(['fly', '--from', path, '--technique', technique]);
    expect(shallower.heightLostTo180Ft).toBeGreaterThan(first.heightLostTo180Ft);
  }));

test.each([
  ['a time outside the recording', ['--at', '99999'], /the recording runs from .* s to .* s, got 99999 s/],
  ['a time on the ground', ['--at', '1'], /the aeroplane is on the ground/],
  ['a time that is none', ['--at', 'soon'], /--at must be a number/],
  ['a request besides', [join(ROOT, 'fixtures/requests/reference-1000ft.json')], /cannot both be given/],
])('%s is refused in one line', (_, words, sentence) =>
  withRecording(async (path) => {
    for (const command of ['fly', 'plan']) {
      const { code, out, err } = await stillprop([command, '--from', path, ...words]);
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(sentence);
      expect(err.trim().split('\n')).toHaveLength(1);
    }
  }),
);
