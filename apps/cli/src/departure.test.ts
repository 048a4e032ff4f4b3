// Requests of any shape through the command's own door: refused by us in one line, or flown without a figure that is no number.
import { readFileSync } from 'node:fs';
import { aircraftReport, flyAttempt } from '@stillprop/physics';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { BadInput } from './badInput.js';
import { aircraftOf, aircraftText } from './commands/aircraft.js';
import { flyCsv } from './commands/flyCsv.js';
import { flyText } from './commands/flyText.js';
import { planAnswer } from './commands/plan.js';
import { planCsv } from './commands/planCsv.js';
import { planText } from './commands/planText.js';
import { answered, answeredLater, readDeparture, writtenDeparture } from './departure.js';
import { warningsOf } from './warnings.js';

const fixture = readFileSync(new URL('../../../fixtures/requests/trainer-in-wind.json', import.meta.url), 'utf8');

/** Threads run the build; tests read the source. */
const ALONE = Number.POSITIVE_INFINITY;

/** Paths of all numbers in the fixture, to be broken one or two at a time. */
function numberPaths(value: unknown, path: readonly string[] = []): string[][] {
  if (typeof value === 'number') return [[...path]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numberPaths(inner, [...path, key]));
}
const numbersIn = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.values(value).flatMap(numbersIn)
      : [];
const PATHS = numberPaths(JSON.parse(fixture));

function changed(path: readonly string[], change: (was: unknown) => unknown, data = JSON.parse(fixture)): unknown {
  let at = data;
  for (const key of path.slice(0, -1)) at = at[key];
  const last = path.at(-1) as string;
  at[last] = change(at[last]);
  return data;
}

/** Another value in place of the one there, or that one made smaller or larger. */
const anyChange = fc.oneof(
  fc
    .oneof(
      fc.double(),
      fc.integer({ min: -10, max: 10_000 }),
      fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, -0, 1e308, null, '1', [], {}),
    )
    .map((value) => () => value as unknown),
  fc.double({ min: 0.5, max: 1.6, noNaN: true }).map((factor) => (was: unknown) => Number(was) * factor),
);

const isOurs = (error: unknown) => {
  expect(error).toBeInstanceOf(BadInput);
  expect((error as Error).message.trim()).not.toBe('');
  expect((error as Error).message).not.toMatch(/\n/);
};
const ours = (work: () => void) => {
  try {
    work();
  } catch (error) {
    isOurs(error);
  }
};
const oursLater = (work: () => Promise<void>) => work().catch(isOurs);

test('a request broken anywhere is refused by us, or flown and told without NaN', () => {
  expect(PATHS.length).toBeGreaterThan(25);
  let flown = 0;
  fc.assert(
    fc.property(fc.constantFrom(...PATHS), anyChange, fc.constantFrom(...PATHS), anyChange, (one, a, two, b) => {
      ours(() => {
        const { request } = writtenDeparture(JSON.stringify(changed(two, b, changed(one, a))), 'the input');
        const result = answered(() => flyAttempt(request, { trackEveryS: 1 }));
        for (const told of [flyText(request, result, warningsOf(request)), flyCsv(result.track)])
          expect(told).not.toMatch(/NaN|Infinity|undefined/);
        flown++;
        expect(numbersIn(result).every(Number.isFinite)).toBe(true);
      });
    }),
    { numRuns: 150 },
  );
  expect(flown).toBeGreaterThan(10);
});

test('a plan of whatever is accepted is told without NaN and no wider than the sheet', async () => {
  const plan = { fromFt: 400, toFt: 700, draws: 2 };
  const near = fc.double({ min: 0.8, max: 1.2, noNaN: true }).map((factor) => (was: unknown) => Number(was) * factor);
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...PATHS), near, async (path, change) => {
      await oursLater(async () => {
        const data = { ...(changed(path, change) as object), plan };
        const departure = writtenDeparture(JSON.stringify(data), 'the input');
        const answer = await answeredLater(() => planAnswer(departure, false, ALONE));
        expect(numbersIn(answer).every(Number.isFinite)).toBe(true);
        const told = planText(departure.request, answer);
        expect(told + planCsv(answer)).not.toMatch(/NaN|Infinity|undefined/);
        for (const line of told.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
      });
    }),
    { numRuns: 2, endOnFailure: true },
  );
});

test('whatever the request says, its sheet is no wider than 80 columns', async () => {
  const { request, questions, from } = writtenDeparture(fixture, 'the input');
  const asked = { request, questions: { ...questions, draws: 2, fromFt: 400, toFt: 500 }, from };
  const answer = await planAnswer(asked, false, ALONE);
  fc.assert(
    fc.property(fc.constantFrom(...PATHS), anyChange, (path, change) => {
      ours(() => {
        const departure = writtenDeparture(JSON.stringify(changed(path, change)), 'the input');
        const told = planText(departure.request, answer);
        for (const line of told.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
      });
    }),
  );
});

test('whatever JSON comes, it is refused by us or accepted', () => {
  fc.assert(
    fc.property(fc.oneof(fc.json(), fc.string()), (text) => {
      ours(() => writtenDeparture(text, 'the input'));
      expect(() => writtenDeparture(text, 'the input')).toThrow(BadInput);
    }),
  );
});

test('an aeroplane broken anywhere is refused by us, or reported without NaN', () => {
  const paths = PATHS.filter(([first]) => first === 'aircraft').map((path) => path.slice(1));
  fc.assert(
    fc.property(fc.constantFrom(...paths), anyChange, (path, value) => {
      ours(() => {
        const data = JSON.parse(JSON.stringify(changed(path, value, JSON.parse(fixture).aircraft)));
        const aircraft = aircraftOf(data, 'the input');
        const told = aircraftText(
          aircraft,
          answered(() => aircraftReport(aircraft)),
        );
        expect(told).not.toMatch(/NaN|Infinity|undefined/);
        for (const line of told.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
      });
    }),
  );
});

test('the aeroplane of a request and that of an aircraft file are the same', () => {
  const data = JSON.parse(fixture);
  expect(aircraftOf(data, 'the input')).toEqual(aircraftOf(data.aircraft, 'the input'));
});

test.each([
  ['neither is named', undefined, {}, /a request is missing: name its file, or a recording with --from/],
  ['both are named', 'a.json', { from: 'b' }, /a\.json and --from cannot both be given/],
  ['a time without a recording', 'a.json', { at: '3' }, /--at needs a recording/],
  ['a time that is none', undefined, { from: 'b', at: 'soon' }, /--at must be a number from 0 to .*, got "soon"/],
  ['a recording that is not there', undefined, { from: '/none' }, /\/none: there is no such file/],
])('%s: refused in one line', (_, path, options, sentence) => {
  expect(() => readDeparture(path, options)).toThrow(sentence);
  expect(() => readDeparture(path, options)).toThrow(BadInput);
});
