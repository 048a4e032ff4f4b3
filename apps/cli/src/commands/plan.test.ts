import { readFileSync } from 'node:fs';
import { PlanRequest } from '@stillprop/contracts';
import { plan } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { planCsv } from './planCsv.js';
import { planText } from './planText.js';

const request = PlanRequest.parse(
  JSON.parse(readFileSync(new URL('../../../../fixtures/requests/trainer-in-wind.json', import.meta.url), 'utf8')),
);
const answer = plan(request, { spread: { draws: 20 } });
const text = planText(request, answer);

test('the decision names every interval the windows hold, and no height outside them', () => {
  const stops = answer.returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  expect(stops.length).toBeGreaterThan(0);
  for (const { fromFt, toFt, toIsScanEnd } of stops) {
    const figure = (heightFt: number) => `${heightFt.toLocaleString('en-GB')} ft`;
    expect(text).toContain(toIsScanEnd ? `from ${figure(fromFt)} up` : `from ${figure(fromFt)} to ${figure(toFt)}`);
  }
  expect(text).toContain(`Below ${answer.lowestReturnFt} ft: land ahead.`);
});

test('tables carry units and the sheet ends with what was left out', () => {
  for (const { turnDeg, heightLostFt } of answer.heightLostByTurn)
    expect(text).toMatch(new RegExp(`\\b${turnDeg}°\\s+${Math.round(heightLostFt).toLocaleString('en-GB')} ft`));
  expect(text).toMatch(/1 s more delay\s+[+−]\d+ ft/);
  expect(text).toContain('no licence to try it low');
});

test('without a return the plan is to land ahead', () => {
  const none = { ...answer, lowestReturnFt: null, returnWindows: [] };
  expect(planText(request, none)).toContain('plan to land ahead');
});

test('the tables as values: as many rows as the plan has, a heading each', () => {
  const tables = planCsv(answer)
    .trimEnd()
    .split('\r\n\r\n')
    .map((table) => table.split('\r\n').map((row) => row.split(',')));
  expect(tables.map((rows) => rows[0]?.[0])).toEqual(['window', 'turnDeg', 'quantity', 'heightFt', 'footprintAlongFt']);
  expect(tables[0]?.length).toBe(answer.returnWindows.length + 1);
  expect(tables[3]?.length).toBe((answer.spread?.heights.length ?? 0) + 1);
  for (const rows of tables) for (const row of rows) expect(row.length).toBe(rows[0]?.length);
  expect(Number(tables[1]?.[1]?.[1])).toBeCloseTo(answer.heightLostByTurn[0]?.heightLostFt ?? Number.NaN, 1);
});
