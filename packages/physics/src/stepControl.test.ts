// Step lengths: refused when too rough, in proportion to the step asked for, fixed in gusts.
import { expect, test } from 'vitest';
import type { FlightModel } from './flight.js';
import { STEP_S, StepControl } from './stepControl.js';

/** A model whose last step left this gap (m/s²). */
const withGap = (gapMps2: number) => ({ gapMps2 }) as FlightModel;

test('a rough step is refused and the next one is shorter; a smooth one is let through and the next one is longer', () => {
  const steps = new StepControl(STEP_S, false);
  expect(steps.accepts(0.2, withGap(1))).toBe(false);
  expect(steps.nextS).toBe(0.1);
  expect(steps.accepts(0.2, withGap(0.001))).toBe(true);
  expect(steps.nextS).toBeGreaterThan(0.25);
  expect(steps.nextS).toBeLessThanOrEqual(0.4);
});

test('the shortest step is let through however rough it is, so that a flight goes on', () => {
  const steps = new StepControl(STEP_S, false);
  let tookS = 0.2;
  for (let i = 0; i < 10 && !steps.accepts(tookS, withGap(1e6)); i++) tookS = steps.nextS;
  expect(tookS).toBeCloseTo(STEP_S / 4, 9);
});

test('where the gap goes with the cube of the step, the steps go with the step asked for', () => {
  const settled = (stepS: number) => {
    const steps = new StepControl(stepS, false);
    for (let i = 0; i < 30; i++) steps.accepts(steps.nextS, withGap(3 * steps.nextS ** 3));
    return steps.nextS;
  };
  expect(settled(STEP_S) / settled(STEP_S / 2)).toBeCloseTo(2, 6);
});

test('in gusts no step is flown twice, and each phase has its own', () => {
  const steps = new StepControl(0.05, true);
  steps.restart('turn');
  expect(steps.accepts(steps.nextS, withGap(1e6))).toBe(true);
  expect(steps.nextS).toBe(0.1);
  steps.restart('flare');
  expect(steps.nextS).toBe(0.05);
});
