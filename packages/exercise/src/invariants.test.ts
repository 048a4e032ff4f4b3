// Whatever pilots, people, simulators and networks do in any order: the rules of the exercise hold.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { doings, modelSetups, newWorld, type World } from './anyOrder.fixture.js';
import { armedTrial, type Trial } from './flight.fixture.js';

function leavesNothingOpen(world: World, trial: Trial): void {
  expect(trial.state.name).toBe('closed');
  expect(trial.actions.filter(({ kind }) => kind === 'close')).toHaveLength(1);
  expect(trial.events.at(-1)?.code).toBe('closed');
  expect(trial.closeReason).toBeDefined();
  expect(trial.state.closed?.text).not.toBe('');
  expect(trial.events.length).toBeLessThan(150);
  const times = trial.samples.map(({ timeS }) => timeS);
  for (const [index, timeS] of times.entries()) expect(timeS).toBeGreaterThan(times[index - 1] ?? -1);
  for (const { heightFt, altitudeFt } of trial.samples) expect(Number.isFinite(heightFt ?? altitudeFt)).toBe(true);
  expect(world.fires).toBeLessThanOrEqual(1);
}

const flown = (most: number) => fc.commands([...doings], { maxCommands: most, size: 'max' });
const someSetup = fc.constantFrom(...modelSetups);

test('fires at most once, only armed, airborne, climbing and on fresh data; repeats as bounded; and stop always closes', () => {
  fc.assert(
    fc.property(someSetup, flown(25), (setup, commands) => {
      const world = newWorld(setup);
      const trial = armedTrial(setup);
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      trial.give({ kind: 'person', command: 'stop', nowS: world.wallS });
      leavesNothingOpen(world, trial);
    }),
    { numRuns: 150 },
  );
});

test('a link that falls silent for ever closes whatever was going on', () => {
  fc.assert(
    fc.property(someSetup, flown(10), (setup, commands) => {
      const world = newWorld(setup);
      const trial = armedTrial(setup);
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      for (let waitedS = 0; waitedS <= 610; waitedS += 5) trial.give({ kind: 'tick', nowS: world.wallS + waitedS });
      leavesNothingOpen(world, trial);
    }),
    { numRuns: 60 },
  );
});

test('an attempt that was never armed sends and records nothing, whatever comes', () => {
  fc.assert(
    fc.property(someSetup, flown(10), (setup, commands) => {
      const world = newWorld(setup);
      const trial = armedTrial(setup);
      trial.give({ kind: 'person', command: 'stop', nowS: 0 });
      const before = trial.actions.length;
      world.closed = true;
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      expect(trial.actions.slice(before).filter(({ kind }) => kind !== 'answer')).toEqual([]);
    }),
    { numRuns: 30 },
  );
});

test.each(modelSetups.map((setup, index) => [index, setup] as const))(
  'many of these flights do fire and repeat, so that the rules above are really tried (setup %i)',
  (_, setup) => {
    let fired = 0;
    let repeated = 0;
    let faulty = 0;
    fc.assert(
      fc.property(flown(25), (commands) => {
        const world = newWorld(setup);
        const trial = armedTrial(setup);
        fc.modelRun(() => ({ model: world, real: trial }), commands);
        fired += world.fires;
        repeated += world.repeats;
        faulty += Object.values(trial.state.intake.faults).some((count) => count > 0) ? 1 : 0;
      }),
      { numRuns: 80, seed: 1 },
    );
    expect(fired).toBeGreaterThan(10);
    expect(repeated).toBeGreaterThan(10);
    expect(faulty).toBeGreaterThan(30);
  },
);
