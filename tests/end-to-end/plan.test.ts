// `stillprop plan` as a program: what programs rely on in its JSON, its tables, and its refusals.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT, stillprop } from '../support/command.js';

const path = join(ROOT, 'fixtures/requests/reference-1000ft.json');
const reference = () => JSON.parse(readFileSync(path, 'utf8'));

test('the JSON answers the planner’s questions for the reference aeroplane', async () => {
  const request = { ...reference(), plan: { draws: 50 } };
  const { code, out } = await stillprop(['plan', '-', '--json'], JSON.stringify(request));
  expect(code).toBe(0);
  const plan = JSON.parse(out);
  expect(['left', 'right']).toContain(plan.bestTurn);
  const stops = plan.returnWindows.filter((window: { outcome: string }) => window.outcome === 'stopped-on-runway');
  // In still air on 4,000 ft an independent program has the window open between 600 and 720 ft.
  expect(stops[0].fromFt).toBeGreaterThanOrEqual(600);
  expect(stops[0].fromFt).toBeLessThanOrEqual(720);
  const lost = new Map(
    plan.heightLostByTurn.map((row: { turnDeg: number; heightLostFt: number }) => [row.turnDeg, row.heightLostFt]),
  );
  expect([...lost.keys()]).toEqual(expect.arrayContaining([30, 90, 180, 270, 360]));
  expect(lost.get(360)).toBeGreaterThan(lost.get(180) as number);
  expect(plan.sensitivity.length).toBeGreaterThan(3);
  expect(plan.spread).toMatchObject({ draws: 50, seed: 1 });
});

test('the page shows the trade of the climb speed, and the tables alone are well-formed', async () => {
  const request = JSON.stringify({ ...reference(), plan: { draws: 20 } });
  const { code, out } = await stillprop(['plan', '-'], request);
  expect(code).toBe(0);
  // An independent program has aeroplane R 8,517 ft out at 92 kt and 10,691 ft at 108 kt.
  expect(out).toMatch(/\n +92 kt +8,5\d0 ft .*< planned\n/);
  expect(out).toMatch(/\n +108 kt +10,[67]\d0 ft /);
  expect(out.trimEnd().split('\n').length).toBeLessThanOrEqual(66);
  const turns = await stillprop(['plan', '-', '--csv', '--table', 'turns'], request);
  const rows = turns.out.trimEnd().split('\r\n');
  expect(rows[0]).toBe('turnDeg,heightLostFt,timeS');
  expect(rows).toHaveLength(13);
});

test.each([
  [['--csv', '--json'], /--json and --csv cannot both be asked for/],
  [['--table', 'turns'], /--table needs --csv/],
  [['--csv', '--table', 'colours'], /--table must be one of windows, .*, got "colours"/],
])('plan %j is refused in one line', async (words, sentence) => {
  const { code, out, err } = await stillprop(['plan', path, ...words]);
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
});

test('the window’s edge holds for single flights: a foot above it stops on the runway, two feet below it does not', async () => {
  const { out } = await stillprop(['plan', '-', '--json'], JSON.stringify({ ...reference(), plan: { draws: 0 } }));
  const edgeFt = JSON.parse(out).lowestReturnFt;
  const outcomeFrom = async (heightFt: number) => {
    const request = reference();
    request.failure.heightFt = heightFt;
    return JSON.parse((await stillprop(['fly', '-', '--json'], JSON.stringify(request))).out).outcome;
  };
  expect(await outcomeFrom(edgeFt + 1)).toBe('stopped-on-runway');
  expect(await outcomeFrom(edgeFt - 2)).not.toBe('stopped-on-runway');
});

test.each([
  ['a field nobody knows', { plan: { colour: 'red' } }, /plan\.colour is not a field/],
  ['a height out of range', { plan: { fromFt: 5 } }, /plan\.fromFt must be 50 to 6000 ft above the runway, got 5/],
  ['a scan upside down', { plan: { fromFt: 900, toFt: 300 } }, /toFt/],
])('%s is refused in one line', async (_, change, sentence) => {
  const { code, out, err } = await stillprop(['plan', '-'], JSON.stringify({ ...reference(), ...change }));
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
});
