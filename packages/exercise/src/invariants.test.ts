// Whatever pilots, people, simulators and networks do in any order: the rules of the exercise hold.
import type { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { armedTrial, setupOf, type Trial, totalAt } from './flight.fixture.js';
import type { ExerciseInput, PersonCommand } from './states.js';

/** What is true outside the exercise. */
interface World {
  timeS: number;
  wallS: number;
  heightFt: number;
  northDeg: number;
  climbFpm: number;
  heardS: number;
  /** Height of the newest sample that got through: of a landing lost on the way nothing can be known. */
  heardHeightFt: number;
  heardTimeS: number;
  /** Wall time since which data have come without a second's silence. */
  flowingSinceS: number;
  liftedOff: boolean;
  fires: number;
  repeats: number;
  closed: boolean;
}
type Doing = fc.Command<World, Trial>;

const STEP_S = 0.05;
const HIGHEST_FT = 700;
const base = setupOf({ drawn: totalAt(300) });
const setup = {
  ...base,
  scenario: { ...base.scenario, failure: { ...base.scenario.failure, highestHeightFt: HIGHEST_FT } },
};

function sampleOf(world: World, change: Partial<Sample> = {}): Sample {
  const flying = world.heightFt > 0;
  return {
    timeS: world.timeS,
    latitudeDeg: 52.1 + world.northDeg,
    longitudeDeg: -1.84,
    altitudeFt: 312 + world.heightFt,
    heightFt: world.heightFt,
    indicatedAirspeedKt: flying ? 90 : 20,
    headingDeg: 0,
    bankDeg: 0,
    pitchDeg: 0,
    verticalSpeedFpm: flying ? world.climbFpm : 0,
    powerFraction: 1,
    onGround: !flying,
    ...change,
  };
}

/** What holds for every command that fails the engine, the first and each repeat. */
function mayTakePower(world: World): void {
  expect(world.liftedOff && world.heardHeightFt > 0).toBe(true);
  expect(world.heardHeightFt).toBeLessThanOrEqual(HIGHEST_FT);
  expect(world.wallS - world.heardS).toBeLessThanOrEqual(1);
  expect(world.wallS - world.flowingSinceS).toBeGreaterThanOrEqual(0.299);
}

function heard(world: World): void {
  if (world.wallS - world.heardS > 1) world.flowingSinceS = world.wallS;
  world.heardS = world.wallS;
  world.heardHeightFt = world.heightFt;
  world.heardTimeS = world.timeS;
}

/** Gives one input and holds what comes out against the world. */
function give(world: World, trial: Trial, input: ExerciseInput): void {
  const before = trial.state;
  const actions = trial.give(input);
  for (const action of actions) {
    if (action.kind !== 'send') continue;
    if (action.purpose === 'fire' || action.purpose === 'repeat') mayTakePower(world);
    if (action.purpose === 'repeat') {
      world.repeats += 1;
      expect(world.repeats).toBeLessThanOrEqual(3);
      expect(before.name).toBe('firing');
    }
    if (action.purpose !== 'fire') continue;
    world.fires += 1;
    expect(world.fires).toBe(1);
    expect(before.name === 'climbing' || before.noFailureTold).toBe(true);
    if (input.kind === 'sample') {
      expect(world.climbFpm).toBeGreaterThanOrEqual(100);
      expect(input.sample.timeS).toBe(world.timeS);
    } else {
      expect(input).toMatchObject({ kind: 'person', command: 'fail-now' });
    }
  }
  if (world.closed) expect(actions.filter(({ kind }) => kind !== 'answer')).toEqual([]);
  world.closed = trial.state.name === 'closed';
}

class Fly implements Doing {
  constructor(
    readonly forS: number,
    readonly climbFpm: number,
    readonly pace: number,
    readonly lossShare: number,
  ) {}
  check = () => true;
  run(world: World, trial: Trial): void {
    world.climbFpm = this.climbFpm;
    for (let step = 1; step * STEP_S <= this.forS; step += 1) {
      world.timeS += STEP_S;
      world.wallS += STEP_S / this.pace;
      const wasFlying = world.heightFt > 0;
      world.heightFt = Math.max(0, world.heightFt + (this.climbFpm / 60) * STEP_S);
      world.northDeg += wasFlying ? 2e-5 : 0;
      if (!wasFlying && world.heightFt > 0) world.liftedOff = true;
      if ((step * 7919) % 1000 < this.lossShare * 1000) continue;
      heard(world);
      give(world, trial, { kind: 'sample', sample: sampleOf(world), receivedS: world.wallS });
    }
  }
  toString = () => `Fly(${this.forS} s, ${this.climbFpm} ft/min, ×${this.pace}, ${this.lossShare} lost)`;
}
class Wait implements Doing {
  constructor(readonly forS: number) {}
  check = () => true;
  run(world: World, trial: Trial): void {
    for (let waitedS = 0; waitedS < this.forS; waitedS += 0.5) {
      world.wallS += 0.5;
      give(world, trial, { kind: 'tick', nowS: world.wallS });
    }
  }
  toString = () => `Wait(${this.forS} s)`;
}
class Say implements Doing {
  constructor(readonly command: PersonCommand) {}
  check = () => true;
  run(world: World, trial: Trial): void {
    give(world, trial, { kind: 'person', command: this.command, nowS: world.wallS });
  }
  toString = () => `Say(${this.command})`;
}
class Mangle implements Doing {
  constructor(readonly change: Partial<Sample>) {}
  check = () => true;
  run(world: World, trial: Trial): void {
    world.timeS += STEP_S;
    const sample = sampleOf(world, this.change);
    const { heightFt, heardTimeS } = world;
    world.wallS += STEP_S;
    heard(world);
    // Nothing was heard of the flight of late: a wrong height cannot be told from a right one.
    if (world.timeS - heardTimeS > 1) world.heardHeightFt = this.change.heightFt ?? heightFt;
    give(world, trial, { kind: 'sample', sample, receivedS: world.wallS });
    world.heightFt = heightFt;
  }
  toString = () => `Mangle(${JSON.stringify(this.change)})`;
}
class ResetByHand implements Doing {
  check = () => true;
  run(world: World, trial: Trial): void {
    world.liftedOff = false;
    world.heightFt = 0;
    give(world, trial, { kind: 'simulator-reset', nowS: world.wallS });
  }
  toString = () => 'ResetByHand';
}

const flights = fc
  .tuple(
    fc.integer({ min: 1, max: 30 }),
    fc.constantFrom(-1500, -300, 0, 80, 600, 1300, 1300, 2500),
    fc.constantFrom(1, 5, 20),
    fc.constantFrom(0, 0, 0.05, 0.4, 1),
  )
  .map((args) => new Fly(...args));
const doings = [
  flights,
  flights,
  flights, // flown more often than anything else happens
  fc.constantFrom(0.5, 0.5, 2, 2, 8, 40).map((forS) => new Wait(forS)),
  fc.constantFrom<PersonCommand>('arm', 'fail-now', 'fail-now', 'restore').map((command) => new Say(command)),
  fc
    .constantFrom<Partial<Sample>>(
      { altitudeFt: 5000 },
      { heightFt: 300 },
      { latitudeDeg: 10 },
      { timeS: 1 },
      { verticalSpeedFpm: -9000 },
    )
    .map((change) => new Mangle(change)),
  fc.constant(new ResetByHand()),
];

const newWorld = (): World => ({
  timeS: 100,
  wallS: 0,
  heightFt: 0,
  northDeg: 0,
  climbFpm: 0,
  heardS: Number.NEGATIVE_INFINITY,
  heardHeightFt: 0,
  heardTimeS: Number.NEGATIVE_INFINITY,
  flowingSinceS: Number.NEGATIVE_INFINITY,
  liftedOff: false,
  fires: 0,
  repeats: 0,
  closed: false,
});

function leavesNothingOpen(world: World, trial: Trial): void {
  expect(trial.state.name).toBe('closed');
  expect(trial.actions.filter(({ kind }) => kind === 'close')).toHaveLength(1);
  expect(trial.events.at(-1)?.code).toBe('closed');
  expect(trial.state.closed?.text).not.toBe('');
  expect(trial.events.length).toBeLessThan(120);
  const times = trial.samples.map(({ timeS }) => timeS);
  for (const [index, timeS] of times.entries()) expect(timeS).toBeGreaterThan(times[index - 1] ?? -1);
  expect(world.fires).toBeLessThanOrEqual(1);
}

test('fires at most once, only armed, airborne, climbing and on fresh data; repeats as bounded; and stop always closes', () => {
  fc.assert(
    fc.property(fc.commands(doings, { maxCommands: 25, size: 'max' }), (commands) => {
      const world = newWorld();
      const trial = armedTrial(setup);
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      trial.give({ kind: 'person', command: 'stop', nowS: world.wallS });
      leavesNothingOpen(world, trial);
    }),
    { numRuns: 200 },
  );
});

test('a link that falls silent for ever closes whatever was going on', () => {
  fc.assert(
    fc.property(fc.commands(doings, { maxCommands: 10, size: 'max' }), (commands) => {
      const world = newWorld();
      const trial = armedTrial(setup);
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      for (let waitedS = 0; waitedS <= 610; waitedS += 5) trial.give({ kind: 'tick', nowS: world.wallS + waitedS });
      leavesNothingOpen(world, trial);
    }),
    { numRuns: 100 },
  );
});

test('many of these flights do fire and repeat, so that the rules above are really tried', () => {
  let fired = 0;
  let repeated = 0;
  fc.assert(
    fc.property(fc.commands(doings, { maxCommands: 25, size: 'max' }), (commands) => {
      const world = newWorld();
      const trial = armedTrial(setup);
      fc.modelRun(() => ({ model: world, real: trial }), commands);
      fired += world.fires;
      repeated += world.repeats;
    }),
    { numRuns: 200, seed: 1 },
  );
  expect(fired).toBeGreaterThan(40);
  expect(repeated).toBeGreaterThan(40);
});
