// What may happen outside the exercise, in any order, and what is true there: a model far simpler than the exercise.
import type { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect } from 'vitest';
import { setupOf, type Trial, totalAt } from './flight.fixture.js';
import type { ExerciseInput, ExerciseSetup, PersonCommand } from './states.js';

/** What is true outside the exercise. */
export interface World {
  readonly floor: boolean;
  readonly tellsHeight: boolean;
  timeS: number;
  wallS: number;
  /** Above the runway or the floor. */
  heightFt: number;
  northDeg: number;
  climbFpm: number;
  /** Of the newest sample that moved time on: when it came, its time, and the true height then. What is lost on the way nobody can know. */
  heardS: number;
  heardTimeS: number;
  heardHeightFt: number;
  /** Wall time since which time has moved on without a second's standstill. */
  flowingSinceS: number;
  /** Time went back: until the exercise has seen that it stays back, the height it knows is a moment old. */
  wentBack: boolean;
  liftedOff: boolean;
  fires: number;
  repeats: number;
  closed: boolean;
}
type Doing = fc.Command<World, Trial>;

export const HIGHEST_FT = 700;
const UNSTEADY_FT = 25;
const STEP_S = 0.05;
const BASE_FT = 312; // elevation of the shelf's runway; the floor lies there too
const base = setupOf({ drawn: totalAt(300) });
const scenario = { ...base.scenario, failure: { ...base.scenario.failure, highestHeightFt: HIGHEST_FT } };
const practice = { from: 'floor', floorAltitudeFt: BASE_FT } as const;

/** With a height channel, without one (told by the seed, which decides nothing else here), and over a floor. */
export const modelSetups: readonly ExerciseSetup[] = [
  { ...base, seed: 0, scenario },
  { ...base, seed: 1, scenario },
  { ...base, seed: 0, scenario: { ...scenario, practice } },
];

export const newWorld = (setup: ExerciseSetup): World => ({
  floor: setup.scenario.practice.from === 'floor',
  tellsHeight: setup.seed === 0,
  timeS: 5000,
  wallS: 0,
  heightFt: 0,
  northDeg: 0,
  climbFpm: 0,
  heardS: Number.NEGATIVE_INFINITY,
  heardTimeS: Number.NEGATIVE_INFINITY,
  heardHeightFt: 0,
  flowingSinceS: Number.NEGATIVE_INFINITY,
  wentBack: false,
  liftedOff: false,
  fires: 0,
  repeats: 0,
  closed: false,
});

function sampleOf(world: World, change: Partial<Sample> = {}): Sample {
  const up = world.heightFt > 0;
  const sample: Sample = {
    timeS: world.timeS,
    latitudeDeg: 52.1 + world.northDeg,
    longitudeDeg: -1.84,
    altitudeFt: BASE_FT + world.heightFt,
    heightFt: world.heightFt,
    indicatedAirspeedKt: up || world.floor ? 90 : 20,
    headingDeg: 0,
    bankDeg: 0,
    pitchDeg: 0,
    verticalSpeedFpm: up ? world.climbFpm : 0,
    powerFraction: 1,
    onGround: !(up || world.floor),
    ...change,
  };
  if (!world.tellsHeight) delete sample.heightFt;
  return sample;
}

/** What holds for every command that fails the engine, the first and each repeat. */
function mayTakePower(world: World): void {
  expect(world.liftedOff && world.heardHeightFt > 0).toBe(true);
  expect(world.heardHeightFt).toBeLessThanOrEqual(HIGHEST_FT + (world.wentBack ? 50 : 0));
  expect(world.wallS - world.heardS).toBeLessThanOrEqual(1);
  expect(world.wallS - world.flowingSinceS).toBeGreaterThanOrEqual(0.299);
}

function heard(world: World, timeS = world.timeS): void {
  if (timeS <= world.heardTimeS) return;
  if (world.wallS - world.heardS > 1) world.flowingSinceS = world.wallS;
  world.heardS = world.wallS;
  world.heardTimeS = timeS;
  world.heardHeightFt = world.heightFt;
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
      // Not on one that was spoilt on the way: by so little no unsteady air is told from a fault.
      expect(Math.abs(input.sample.altitudeFt - sampleOf(world).altitudeFt)).toBeLessThan(UNSTEADY_FT);
      expect(Math.abs((input.sample.heightFt ?? world.heightFt) - world.heightFt)).toBeLessThan(UNSTEADY_FT);
      expect(input.sample.timeS).toBe(world.timeS);
    } else {
      expect(input).toMatchObject({ kind: 'person', command: 'fail-now' });
    }
  }
  if (world.closed) expect(actions.filter(({ kind }) => kind !== 'answer')).toEqual([]);
  world.closed = trial.state.name === 'closed';
}

const tell = (world: World, trial: Trial, sample: Sample) =>
  give(world, trial, { kind: 'sample', sample, receivedS: world.wallS });

/** A thing that can always happen. */
function doing(name: string, run: (world: World, trial: Trial) => void): Doing {
  return { check: () => true, run, toString: () => name };
}

const fly = (forS: number, climbFpm: number, pace: number, lossShare: number) =>
  doing(`fly ${forS} s, ${climbFpm} ft/min, ×${pace}, ${lossShare} lost`, (world, trial) => {
    world.climbFpm = climbFpm;
    for (let step = 1; step * STEP_S <= forS; step += 1) {
      world.timeS += STEP_S;
      world.wallS += STEP_S / pace;
      const wasUp = world.heightFt > 0;
      world.heightFt = Math.max(0, world.heightFt + (climbFpm / 60) * STEP_S);
      world.northDeg += wasUp || world.floor ? 2e-5 : 0;
      if (!wasUp && world.heightFt > 0) world.liftedOff = true;
      if ((step * 7919) % 1000 < lossShare * 1000) continue;
      heard(world);
      tell(world, trial, sampleOf(world));
    }
  });

const wait = (forS: number) =>
  doing(`wait ${forS} s`, (world, trial) => {
    for (let waitedS = 0; waitedS < forS; waitedS += 0.5) {
      world.wallS += 0.5;
      give(world, trial, { kind: 'tick', nowS: world.wallS });
    }
  });

const say = (command: PersonCommand) =>
  doing(`say ${command}`, (world, trial) => give(world, trial, { kind: 'person', command, nowS: world.wallS }));

/** One sample spoilt on its way. It moves time on unless it is one that cannot be read. */
const spoil = (change: Partial<Sample>) =>
  doing(`spoil ${JSON.stringify(change)}`, (world, trial) => {
    world.timeS += STEP_S;
    world.wallS += STEP_S;
    heard(world);
    tell(world, trial, sampleOf(world, change));
  });

const pause = (forS: number) =>
  doing(`pause ${forS} s`, (world, trial) => {
    for (let waitedS = 0; waitedS < forS; waitedS += 0.1) {
      world.wallS += 0.1;
      heard(world); // the first may be the first after a silence
      tell(world, trial, sampleOf(world));
      give(world, trial, { kind: 'tick', nowS: world.wallS });
    }
  });

const replay = (samples: number) =>
  doing(`replay ${samples} old samples`, (world, trial) => {
    for (let index = samples; index > 0; index -= 1) {
      const timeS = world.timeS - 20 - index * STEP_S;
      heard(world, timeS);
      tell(world, trial, sampleOf(world, { timeS }));
    }
  });

const resetByHand = doing('reset by hand', (world, trial) => {
  world.liftedOff = false;
  world.heightFt = 0;
  give(world, trial, { kind: 'simulator-reset', nowS: world.wallS });
});

const moved = (northDeg: number) =>
  doing(`moved by ${northDeg}°`, (world) => {
    world.northDeg += northDeg;
  });

const clock = (byS: number) =>
  doing(`clock by ${byS} s`, (world) => {
    world.timeS += byS;
    if (byS > 0) return;
    world.heardTimeS = Number.NEGATIVE_INFINITY;
    world.wentBack = true;
  });

const flights = fc
  .tuple(
    fc.integer({ min: 1, max: 30 }),
    fc.constantFrom(-1500, -300, 0, 80, 600, 1300, 1300, 2500),
    fc.constantFrom(1, 5, 20),
    fc.constantFrom(0, 0, 0.05, 0.4, 1),
  )
  .map((args) => fly(...args));

export const doings: readonly fc.Arbitrary<Doing>[] = [
  flights,
  flights,
  flights,
  flights, // flown more often than anything else happens
  fc.constantFrom(0.5, 0.5, 2, 2, 8, 40).map(wait),
  fc.constantFrom<PersonCommand>('arm', 'fail-now', 'fail-now', 'restore').map(say),
  fc
    .constantFrom<Partial<Sample>>(
      { altitudeFt: 5000 },
      { heightFt: 300 },
      { altitudeFt: BASE_FT + 300 },
      { latitudeDeg: 10 },
      { timeS: 1 },
      { verticalSpeedFpm: -9000 },
      { altitudeFt: Number.NaN },
      { timeS: Number.POSITIVE_INFINITY },
      { verticalSpeedFpm: Number.NaN },
    )
    .map(spoil),
  fc.oneof(
    fc.constantFrom(0.3, 1.5, 5).map(pause),
    fc.constantFrom(1, 4, 30).map(replay),
    fc.constant(resetByHand),
    fc.constant(moved(0.5)),
    fc.constantFrom(-60, 10, 3600).map(clock),
  ),
];
