// A point that takes off, climbs and obeys commands, with sockets left out: the exercise is flown against it in tests.
// Invented figures; the flight model proper lives in @stillprop/physics.
import { readFileSync } from 'node:fs';
import {
  Aircraft,
  type DrawnFailure,
  fromRunwayFrame,
  isPlaced,
  type RecordedEvent,
  Runway,
  type Sample,
  Scenario,
} from '@stillprop/contracts';
import { advance, startExercise } from './advance.js';
import { seededGenerator } from './seededGenerator.js';
import type { ExerciseAction, ExerciseInput, ExerciseSetup, ExerciseState } from './states.js';
import { offTable } from './stateTable.fixture.js';
import type { Cause } from './stateTable.js';

function shelf(path: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../../fixtures/${path}.json`, import.meta.url), 'utf8'));
}

/** The setup of the first shelf scenario, changed where a test wants it. */
export function setupOf(change: Partial<ExerciseSetup> = {}): ExerciseSetup {
  return {
    scenario: Scenario.parse(shelf('scenarios/first-turn-back')),
    runway: Runway.parse(shelf('runways/quarry-moor-24')),
    aircraft: Aircraft.parse(shelf('aircraft/turnstone')),
    drawn: totalAt(1000),
    seed: 7,
    commands: ['fail', 'setPower', 'restore', 'reset', 'begin'],
    expectedRateHz: 20,
    commandLatencyS: 0.05,
    ...change,
  };
}

export function totalAt(heightFt: number): DrawnFailure {
  return { kind: 'total', heightFt, powerFraction: 0, propeller: 'coarse' };
}

const RUNWAY = setupOf().runway;
const ROLL_S = 20;
const CLIMB_FPM = 1300;
const SINK_FPM = -1000;
const SPEED_KT = 92;
const FT_PER_S_PER_KT = 1852 / 0.3048 / 3600;
const STEP_S = 0.01;
const GRAVITY_FPS2 = 9.80665 / 0.3048;

export interface FlightOptions {
  readonly rateHz?: number;
  /** Simulated seconds in a second of wall time. */
  readonly pace?: number;
  readonly latencyS?: number;
  readonly obeys?: boolean;
  /** Simulated seconds in which a person told to move the throttle has done it. */
  readonly handS?: number;
  readonly lossShare?: number;
  readonly without?: readonly (keyof Sample)[];
  /** Changes a sample on its way; null loses it. */
  readonly onTheWay?: (sample: Sample) => Sample | null;
  readonly startHeightFt?: number;
  readonly forS?: number;
  /** A person's word at a simulated second. */
  readonly persons?: readonly { readonly atS: number; readonly command: 'fail-now' | 'restore' | 'stop' }[];
}

/** An exercise under test, with everything that came out of it. */
export class Trial {
  state: ExerciseState;
  readonly actions: ExerciseAction[] = [];
  /** Rows of the table of states gone through, in order. */
  readonly causes: Cause[] = [];
  constructor(setup: ExerciseSetup) {
    this.state = startExercise(setup);
  }
  give(input: ExerciseInput): readonly ExerciseAction[] {
    const step = advance(this.state, input);
    const amiss = offTable(this.state, input, step);
    if (amiss !== null) throw new Error(`not in the table of states: ${amiss}`);
    for (const { cause } of step.moves) this.causes.push(cause);
    this.state = step.state;
    this.actions.push(...step.actions);
    return step.actions;
  }
  get events(): RecordedEvent[] {
    return this.actions.flatMap((action) => (action.kind === 'record-event' ? [action.event] : []));
  }
  get codes(): string[] {
    return this.events.map((event) => event.code);
  }
  get samples(): Sample[] {
    return this.actions.flatMap((action) => (action.kind === 'record-sample' ? [action.sample] : []));
  }
  get sends() {
    return this.actions.flatMap((action) => (action.kind === 'send' ? [action] : []));
  }
  get prompts() {
    return this.actions.flatMap((action) => (action.kind === 'prompt' ? [action] : []));
  }
  get closeReason(): string | undefined {
    return this.actions.flatMap((action) => (action.kind === 'close' ? [action.reason] : []))[0];
  }
  event(code: string): RecordedEvent | undefined {
    return this.events.find((event) => event.code === code);
  }
}

/** A trial that was armed at wall time 0. */
export function armedTrial(setup: ExerciseSetup = setupOf()): Trial {
  const trial = new Trial(setup);
  trial.give({ kind: 'person', command: 'arm', nowS: 0 });
  return trial;
}

/** Flies a whole attempt. `powerFellAt` is the truth to hold the exercise's own figures against. */
export function fly(setup: ExerciseSetup, options: FlightOptions = {}) {
  const { rateHz = 20, pace = 1, latencyS = 0.05, obeys = true, lossShare = 0, forS = 200 } = options;
  const random = seededGenerator(11);
  const trial = armedTrial(setup);
  const point = { alongFt: 0, heightFt: options.startHeightFt ?? 0, speedKt: 0, climbFpm: 0, power: 1 };
  if (point.heightFt > 0) Object.assign(point, { speedKt: SPEED_KT, climbFpm: CLIMB_FPM });
  const orders: { atS: number; power: number }[] = [];
  const persons = [...(options.persons ?? [])];
  let truth: { atS: number; heightFt: number } | null = null;
  let sent = -1;
  for (let tick = 0; tick * STEP_S <= forS; tick += 1) {
    const timeS = tick * STEP_S;
    const wallS = timeS / pace;
    for (const order of orders.filter(({ atS }) => atS <= timeS)) {
      if (order.power < point.power && truth === null) truth = { atS: timeS, heightFt: point.heightFt };
      point.power = order.power;
      orders.splice(orders.indexOf(order), 1);
    }
    step(point, timeS);
    const obey = (actions: readonly ExerciseAction[]) => {
      for (const action of actions) {
        if (action.kind === 'prompt' && obeys) {
          orders.push({ atS: timeS + (options.handS ?? 1.5), power: action.purpose === 'fire' ? 0 : 1 });
        }
        if (action.kind === 'send' && obeys) orders.push({ atS: timeS + latencyS, power: action.powerFraction });
      }
    };
    const person = persons[0];
    if (person !== undefined && person.atS <= timeS) {
      persons.shift();
      obey(trial.give({ kind: 'person', command: person.command, nowS: wallS }));
    }
    if (Math.floor(timeS * rateHz + 1e-9) > sent) {
      sent = Math.floor(timeS * rateHz + 1e-9);
      const sample = sampleOf(point, timeS, options.without ?? []);
      const arriving = options.onTheWay === undefined ? sample : options.onTheWay(sample);
      if (arriving !== null && random() >= lossShare) {
        obey(trial.give({ kind: 'sample', sample: arriving, receivedS: wallS }));
      }
    }
    if (tick % 5 === 0) trial.give({ kind: 'tick', nowS: wallS });
    if (trial.state.name === 'closed') break;
  }
  return { trial, powerFellAt: truth as { atS: number; heightFt: number } | null };
}

/** What the simulator tells of a whole take-off and climb that nothing interrupts. */
export function climbSamples(forS: number): Sample[] {
  const samples: Sample[] = [];
  const onTheWay = (sample: Sample) => {
    samples.push(sample);
    return sample;
  };
  fly(setupOf(), { obeys: false, forS, onTheWay });
  return samples;
}

interface Point {
  alongFt: number;
  heightFt: number;
  speedKt: number;
  climbFpm: number;
  power: number;
}

function step(point: Point, timeS: number): void {
  const flying = point.heightFt > 0 || (timeS >= ROLL_S && point.power > 0.5);
  if (flying) {
    // Energy follows power at once; the path bends slowly, and speed pays for the difference.
    const aim = SINK_FPM + (CLIMB_FPM - SINK_FPM) * point.power;
    const speedFps = point.speedKt * FT_PER_S_PER_KT;
    point.speedKt += ((GRAVITY_FPS2 * (aim - point.climbFpm)) / 60 / speedFps / FT_PER_S_PER_KT) * STEP_S;
    point.climbFpm += Math.max(-800 * STEP_S, Math.min(800 * STEP_S, aim - point.climbFpm));
    point.heightFt = Math.max(0, point.heightFt + (point.climbFpm / 60) * STEP_S);
  } else {
    point.climbFpm = 0;
    const gain = point.power > 0.5 ? SPEED_KT / ROLL_S : -8;
    point.speedKt = Math.max(0, Math.min(SPEED_KT, point.speedKt + gain * STEP_S));
  }
  point.alongFt += point.speedKt * FT_PER_S_PER_KT * STEP_S;
}

function sampleOf(point: Point, timeS: number, without: readonly (keyof Sample)[]): Sample {
  if (!isPlaced(RUNWAY)) throw new Error('the shelf runway has a position');
  const sample: Sample = {
    timeS,
    ...fromRunwayFrame(RUNWAY, { alongFt: point.alongFt, acrossFt: 0 }),
    altitudeFt: RUNWAY.elevationFt + point.heightFt,
    heightFt: point.heightFt,
    indicatedAirspeedKt: point.speedKt,
    groundspeedKt: point.speedKt,
    headingDeg: RUNWAY.headingTrueDeg,
    bankDeg: 0,
    pitchDeg: 5,
    verticalSpeedFpm: point.climbFpm,
    engineRpm: 900 + 1700 * point.power,
    powerFraction: point.power,
    onGround: point.heightFt <= 0,
  };
  for (const channel of without) delete sample[channel];
  return sample;
}
