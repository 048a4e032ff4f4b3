// Reading the shelf: later folders go before earlier ones, and a wrong file is named at once.
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { SHELF } from './attempt.fixture.js';
import { readCatalogue } from './catalogueFiles.js';

let own: string;
beforeEach(() => {
  own = mkdtempSync(join(tmpdir(), 'stillprop-shelf-'));
  cpSync(join(SHELF, 'weather'), join(own, 'weather'), { recursive: true });
  cpSync(join(SHELF, 'scenarios'), join(own, 'scenarios'), { recursive: true });
});
afterEach(() => rmSync(own, { recursive: true }));
const change = (name: string, from: string, to: string) => {
  const path = join(own, name);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(from);
  writeFileSync(path, text.replace(from, to));
};

test('the shelf that ships is read whole', () => {
  const { scenarios, aircraft } = readCatalogue([SHELF]);
  expect([...scenarios.keys()]).toEqual(['first-turn-back', 'low-and-ahead', 'turn-over-a-floor', 'unknown-height']);
  expect(aircraft.size).toBe(2);
});

test('a later folder goes before an earlier one, and may hold only some of the kinds', () => {
  change('scenarios/first-turn-back.json', '"Turn back from 1,000 ft"', '"Ours"');
  expect(readCatalogue([SHELF, own]).scenarios.get('first-turn-back')?.name).toBe('Ours');
  expect(readCatalogue([own, SHELF]).scenarios.get('first-turn-back')?.name).toBe('Turn back from 1,000 ft');
});

test('a value that is wrong is told with its file', () => {
  change('scenarios/first-turn-back.json', '"highestHeightFt": 1500', '"highestHeightFt": 15');
  expect(() => readCatalogue([SHELF, own])).toThrow(
    `${own}/scenarios/first-turn-back.json: failure.highestHeightFt must be 50 to 8000 ft above the runway, got 15`,
  );
});

test('a file that is not JSON is told with its path', () => {
  writeFileSync(join(own, 'weather', 'calm.json'), '{');
  expect(() => readCatalogue([SHELF, own])).toThrow(`${own}/weather/calm.json is not JSON`);
});

test('a scenario that names what is on no shelf is told', () => {
  change('scenarios/low-and-ahead.json', '"aircraftId": "wheatear"', '"aircraftId": "dodo"');
  expect(() => readCatalogue([SHELF, own])).toThrow(
    'scenarios/low-and-ahead.json: aircraftId must be one of turnstone, wheatear, got "dodo"',
  );
});

test('a scenario whose id is not its file name is told', () => {
  change('scenarios/low-and-ahead.json', '"id": "low-and-ahead"', '"id": "other"');
  expect(() => readCatalogue([SHELF, own])).toThrow(
    `${own}/scenarios/low-and-ahead.json: id must be "low-and-ahead", as its file is named, got "other"`,
  );
});

test('a scenario that no aeroplane can fly is told, though each number by itself is right', () => {
  change('scenarios/low-and-ahead.json', '"targetKcas": 65', '"targetKcas": 45');
  expect(() => readCatalogue([SHELF, own])).toThrow(
    /^scenarios\/low-and-ahead\.json: technique\.targetKcas must be 50 to 200 kt .*, got 45$/,
  );
});

test('a folder that is not there is told', () => {
  expect(() => readCatalogue([join(own, 'nowhere')])).toThrow(
    `The catalogue folder ${join(own, 'nowhere')} cannot be read`,
  );
});
