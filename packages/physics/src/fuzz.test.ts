// Whatever numbers come in: an answer of finite numbers, or one sentence of ours that names the field. No other throw, no hang.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bestTurn } from './bestTurn.js';
import { flyAttempt } from './flyAttempt.js';
import { footprint } from './footprint.js';
import { heightLostByTurn } from './heightLostByTurn.js';
import { optimise } from './optimise.js';
import { plan } from './plan.js';
import { requestR } from './reference.fixture.js';
import type { FlyRequest } from './request.js';
import { returnWindows } from './returnWindows.js';
import { sensitivity } from './sensitivity.js';
import { spread } from './spread.js';

/** Numbers that break things: none at all, infinite, huge, tiny, negative, and plain ones of any size. */
const oddNumber = fc.oneof(
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, -0, -1, 1e308, 1e-308, 1e9),
  fc.double({ noNaN: true }),
  fc.integer({ min: -1000, max: 20_000 }),
);
const PARTS = ['aircraft', 'runway', 'weather', 'technique', 'failure'] as const;

/** A request with one to three of its numbers, at any depth, replaced. */
const oddRequest = fc
  .array(fc.record({ part: fc.constantFrom(...PARTS), which: fc.nat(), value: oddNumber }), {
    minLength: 1,
    maxLength: 3,
  })
  .map((changes) => {
    const request = copyOf(
      requestR({ weather: { winds: [{ heightFt: 33, fromTrueDeg: 60, speedKt: 8 }] }, failure: { heightFt: 800 } }),
    );
    for (const { part, which, value } of changes) {
      const places = numbersIn(request[part]);
      const place = places[which % places.length];
      if (place !== undefined) place.holder[place.key] = value;
    }
    return request;
  });

function copyOf(request: FlyRequest): FlyRequest {
  return JSON.parse(JSON.stringify(request)) as FlyRequest;
}

function numbersIn(value: unknown): { holder: Record<string, unknown>; key: string }[] {
  if (typeof value !== 'object' || value === null) return [];
  const holder = value as Record<string, unknown>;
  return Object.keys(holder).flatMap((key) =>
    typeof holder[key] === 'number' ? [{ holder, key }] : numbersIn(holder[key]),
  );
}

function expectOurs(answer: (request: FlyRequest) => unknown, request: FlyRequest): void {
  let found: unknown;
  try {
    found = answer(request);
  } catch (error) {
    expect(error).toBeInstanceOf(RangeError);
    expect((error as Error).message).toMatch(/must |cannot /);
    expect((error as Error).message).toMatch(/aircraft|runway|weather|technique|failure|request/);
    return;
  }
  expectFinite(found, '');
}

function expectFinite(value: unknown, path: string): void {
  if (typeof value === 'number') expect(Number.isFinite(value), path).toBe(true);
  else if (typeof value === 'object' && value !== null)
    for (const [key, inner] of Object.entries(value)) expectFinite(inner, `${path}.${key}`);
}

const SCAN = { fromFt: 500, toFt: 800, stepFt: 150 };
const ANSWERS: Record<string, { runs: number; answer: (request: FlyRequest) => unknown }> = {
  flyAttempt: { runs: 150, answer: (request) => flyAttempt(request, { trackEveryS: 5 }) },
  heightLostByTurn: { runs: 150, answer: (request) => heightLostByTurn(request) },
  footprint: { runs: 60, answer: (request) => footprint(request, { directions: 6 }) },
  returnWindows: { runs: 30, answer: (request) => returnWindows(request, SCAN) },
  bestTurn: { runs: 15, answer: (request) => bestTurn(request, { windows: returnWindows(request, SCAN) }) },
  spread: { runs: 30, answer: (request) => spread(request, { draws: 2 }) },
  sensitivity: { runs: 10, answer: (request) => sensitivity(request, { lowestReturnFt: null }) },
  optimise: { runs: 10, answer: (request) => optimise(request, { rounds: 10, lowestReturnFt: 700 }) },
  plan: { runs: 8, answer: (request) => plan(request, { ...SCAN, spread: { draws: 2 } }) },
};

test.each(Object.entries(ANSWERS))('%s answers or refuses, whatever it is given', (_name, { runs, answer }) => {
  fc.assert(
    fc.property(oddRequest, (request) => expectOurs(answer, request)),
    { numRuns: runs, seed: 77 },
  );
});
