// A plan as a pilot reads it, and as values: every figure is the plan's, on the safe side, on one page.
import { readFileSync } from 'node:fs';
import type { Plan } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { writtenDeparture } from '../departure.js';
import { planAnswer } from './plan.js';
import { checkTableName, planCsv, TABLE_NAMES } from './planCsv.js';
import { countedOn } from './planDecision.js';
import { planText } from './planText.js';

const departure = writtenDeparture(
  readFileSync(new URL('../../../../fixtures/requests/trainer-in-wind.json', import.meta.url), 'utf8'),
  'the fixture',
);
const { request } = departure;
/** Threads run the build; tests read the source. */
const ALONE = Number.POSITIVE_INFINITY;
const answer = await planAnswer({ ...departure, questions: { draws: 20 } }, false, ALONE);
const text = planText(request, answer);
const figure = (heightFt: number) => heightFt.toLocaleString('en-GB');

/** The plan with other shares of 100 flights ending well at 500, 600 … ft; the rest overruns. */
const withShares = (...percents: number[]): Plan['spread'] => {
  if (answer.spread === null) throw new Error('no spread');
  const [model] = answer.spread.heights;
  if (model === undefined) throw new Error('no heights');
  const heights = percents.map((percent, index) => ({
    heightFt: 500 + 100 * index,
    outcomes: { ...model.outcomes, 'stopped-on-runway': percent, overrun: 100 - percent },
    endsWell: { ...model.endsWell, share: percent / 100, low: percent / 100 - 0.02, high: percent / 100 },
  }));
  const first = heights.find(({ endsWell }) => endsWell.share >= 0.95);
  return {
    ...answer.spread,
    draws: 100,
    heights,
    heightFor95: { share: 0.95, heightFt: first?.heightFt ?? null, surelyFt: null },
  };
};

test('it fits one page and names the caution', () => {
  const lines = text.trimEnd().split('\n');
  expect(lines.length).toBeLessThanOrEqual(66);
  for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(80);
  expect(text.replaceAll(/\s+/g, ' ')).toContain('no licence to try it low in an aeroplane');
  expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
});

test('edges of windows are told a little inside them', () => {
  const stops = answer.returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  expect(stops.length).toBeGreaterThan(0);
  for (const { fromFt, toFt, toIsScanEnd } of stops) {
    const upFt = Math.ceil(fromFt / 10) * 10;
    const downFt = Math.floor(toFt / 10) * 10;
    expect(text.replaceAll(/\s+/g, ' ')).toContain(
      toIsScanEnd ? `from ${figure(upFt)} ft up` : `${figure(upFt)} ft to ${figure(downFt)} ft`,
    );
  }
});

test('the decision rests on the height for 95 in 100, not on the bare edge', () => {
  const sheet = planText(request, { ...answer, spread: withShares(80, 96, 97, 60, 99) });
  expect(sheet).toMatch(/Below 600 ft {2,}LAND AHEAD\./);
  expect(sheet).toMatch(/600 ft to 700 ft {2,}a return ends well 95 times in 100/);
  expect(sheet).toMatch(
    /Above 700 ft {2,}not counted on: 60 % from 800 ft; most often it touches\s+the runway too far/,
  );
});

test('up to the highest height tried it says how far it was tried', () => {
  const sheet = planText(request, { ...answer, spread: withShares(80, 96, 97) });
  expect(sheet).toMatch(/From 600 ft {2,}a return ends well/);
  expect(sheet).toContain('(tried to 700 ft)');
});

test('where 95 in 100 is reached nowhere, the plan is to land ahead', () => {
  const sheet = planText(request, { ...answer, spread: withShares(80, 94, 60) });
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD/);
  expect(sheet.replaceAll(/\s+/g, ' ')).toContain('Best is 94 %, from 600 ft.');
});

test('without a spread no height is recommended', () => {
  const sheet = planText(request, { ...answer, spread: null });
  expect(sheet).toMatch(new RegExp(`Below ${Math.ceil((answer.lowestReturnFt ?? 0) / 10) * 10} ft +LAND AHEAD`));
  expect(sheet).toContain('plan higher');
});

test('without a return the plan is to land ahead', () => {
  const sheet = planText(request, { ...answer, lowestReturnFt: null, returnWindows: [] });
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD: no return was found/);
});

test('the run of heights that is counted on ends at the last one tried before a failing one', () => {
  const spread = withShares(96, 97, 90, 99);
  expect(spread === null ? null : countedOn(spread)).toMatchObject({
    fromFt: 500,
    toFt: 600,
    above: { heightFt: 700 },
  });
});

test('the tables are there with their units: turns, costs, climb speeds, flights', () => {
  for (const { turnDeg, heightLostFt } of answer.heightLostByTurn) {
    expect(text).toContain(`${turnDeg}°`);
    expect(text).toMatch(new RegExp(`\\n  ft .*\\b${figure(Math.ceil(heightLostFt / 10) * 10)}\\b`));
  }
  expect(text).toMatch(/1 s of delay( +[+−]\d+| +0){4}/);
  expect(answer.climbs?.choices.length).toBe(3);
  for (const { climbKcas } of answer.climbs?.choices ?? []) expect(text).toMatch(new RegExp(`\\n +${climbKcas} kt +`));
  expect(text.replaceAll(/\s+/g, ' ')).toContain(`${figure(answer.scan.flights)} for the windows`);
});

test('a technique that lands ahead is told to, and nothing of a return', () => {
  const sheet = planText({ ...request, technique: { ...request.technique, turn: 'ahead' } }, answer);
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD, as this technique has it/);
  expect(sheet).not.toMatch(/RETURN WINDOWS|ORDINARY ERRORS:|\bTurn\b/);
});

test('doubts about the numbers stand on the sheet', () => {
  const warnings = [{ field: 'aircraft.bestGlideKcas', message: 'it is doubtful' }];
  expect(planText(request, { ...answer, warnings })).toContain('aircraft.bestGlideKcas: it is doubtful.');
  expect(text).not.toContain('DOUBTFUL');
});

const rowsOf = (sheet: string) =>
  sheet
    .trimEnd()
    .split('\r\n')
    .map((row) => row.split(','));

test('all tables as one: a figure a row, four cells each', () => {
  const [heading, ...rows] = rowsOf(planCsv(answer));
  expect(heading).toEqual(['table', 'row', 'figure', 'value']);
  for (const row of rows) expect(row).toHaveLength(4);
  const rowsIn = (table: string) => new Set(rows.filter((row) => row[0] === table).map((row) => row[1])).size;
  expect(rowsIn('windows')).toBe(answer.returnWindows.length);
  expect(rowsIn('turns')).toBe(answer.heightLostByTurn.length);
  expect(rowsIn('costs')).toBe(2 * answer.sensitivity.length);
  expect(rowsIn('spread')).toBe(answer.spread?.heights.length);
  expect(rowsIn('sides')).toBe(2);
  const at = rows.find((row) => row[0] === 'turns' && row[1] === '1' && row[2] === 'heightLostFt');
  expect(Number(at?.[3])).toBeCloseTo(answer.heightLostByTurn[0]?.heightLostFt ?? Number.NaN, 1);
});

test.each(TABLE_NAMES)('the table %s alone has one heading, and every row is as long', (name) => {
  const [heading, ...rows] = rowsOf(planCsv(answer, checkTableName(name)));
  expect(heading?.length).toBeGreaterThan(1);
  for (const row of rows) expect(row.length).toBe(heading?.length);
  expect(planCsv(answer, name)).not.toMatch(/NaN|undefined/);
});

test('a table nobody has is refused with the names there are', () => {
  expect(() => checkTableName('toString')).toThrow(/--table must be one of windows, .*, got "toString"/);
});
