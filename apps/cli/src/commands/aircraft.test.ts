// The report on an aeroplane as a person reads it.
import { readFileSync } from 'node:fs';
import { Aircraft } from '@stillprop/contracts';
import { aircraftReport } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { aircraftText } from './aircraft.js';

const numbers = (change: object = {}) => {
  const url = new URL('../../../../fixtures/requests/reference-1000ft.json', import.meta.url);
  return Aircraft.parse({ ...JSON.parse(readFileSync(url, 'utf8')).aircraft, ...change });
};
const text = (change?: object) => aircraftText(numbers(change), aircraftReport(numbers(change)));

test('what a climb is worth is told for this mass, still air and the propeller of the handbook glide', () => {
  expect(text({ referenceMassKg: 1000 })).toMatch(/Climb angle at 92 kt +2\.3°/);
  expect(text().replaceAll(/\s+/g, ' ')).toContain('(still air, propeller as in the handbook glide)');
});

test('the ratio of climb to glide is rounded down, as a ratio that must be had', () => {
  const report = aircraftReport(numbers());
  const figures = report.figures.map((one) => (one.key === 'climbToGlide.0' ? { ...one, value: 1.008 } : one));
  expect(aircraftText(numbers(), { ...report, figures })).toMatch(/over glide angle at 92 kt +1\.00\n/);
});

test('a figure below zero has a true minus', () => {
  const report = aircraftReport(numbers());
  const figures = report.figures.map((one) => ({ ...one, value: -one.value }));
  expect(aircraftText(numbers(), { ...report, figures })).not.toMatch(/-[\d.]/);
});
