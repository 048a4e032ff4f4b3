// Where the failure takes effect: within 5 ft of the drawn height, over rates, climbs, latencies and jitter.
import type { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { armedTrial, setupOf, totalAt } from './flight.fixture.js';
import { seededGenerator } from './seededGenerator.js';
import type { MeasuredLatency } from './states.js';

const MOST_OFF_FT = 5;
const STEP_S = 0.001;
const ROLL_S = 6;
const ELEVATION_FT = 312;

interface Chain {
  readonly rateHz: number;
  readonly climbFpm: number;
  /** From the command's going out to the power being gone, and how much longer it may take. */
  readonly latencyS: number;
  readonly latencyJitterS: number;
  /** A sample is on its way for up to so long, and made up to so long after its turn. */
  readonly wayJitterS: number;
  readonly samplingJitterS: number;
  /** Samples overtake each other on their way. */
  readonly overtaking: boolean;
  readonly seed: number;
  readonly drawnFt: number;
}

/** Flies a straight climb on a clock of milliseconds until the fall was reported; height at which the power truly went. */
function failureOn(chain: Chain, measuredLatency: MeasuredLatency | null, commandLatencyS = 0.05) {
  const random = seededGenerator(chain.seed, measuredLatency === null ? 0 : 1);
  const trial = armedTrial(
    setupOf({ drawn: totalAt(chain.drawnFt), expectedRateHz: chain.rateHz, measuredLatency, commandLatencyS }),
  );
  let [heightFt, climbFpm, speedKt, northFt, power] = [0, 0, 0, 0, 1];
  let nextSampleS = 0;
  let lastArrivesS = 0;
  let takesEffectS = Number.POSITIVE_INFINITY;
  let truthFt: number | null = null;
  const onTheWay: { readonly arrivesS: number; readonly sample: Sample }[] = [];
  for (let timeS = 0; timeS < 120 && trial.state.fall === null; timeS += STEP_S) {
    if (timeS >= takesEffectS && power > 0) {
      power = 0;
      truthFt = heightFt;
    }
    const aimFpm = timeS < ROLL_S ? 0 : power * chain.climbFpm - (1 - power) * 900;
    climbFpm += Math.max(-1000 * STEP_S, Math.min(1000 * STEP_S, aimFpm - climbFpm));
    speedKt = Math.min(90, speedKt + 20 * STEP_S);
    heightFt = Math.max(0, heightFt + (climbFpm / 60) * STEP_S);
    northFt += speedKt * (6076.12 / 3600) * STEP_S;
    if (timeS >= nextSampleS) {
      nextSampleS = (Math.floor(timeS * chain.rateHz + 1e-6) + 1) / chain.rateHz + random() * chain.samplingJitterS;
      const freeS = timeS + random() * chain.wayJitterS;
      const arrivesS = chain.overtaking ? freeS : Math.max(freeS, lastArrivesS);
      lastArrivesS = arrivesS;
      onTheWay.push({ arrivesS, sample: sampleOf(timeS, heightFt, climbFpm, speedKt, northFt, power) });
    }
    const here = onTheWay.filter(({ arrivesS }) => arrivesS <= timeS).sort((a, b) => a.arrivesS - b.arrivesS);
    for (const arrived of here) {
      onTheWay.splice(onTheWay.indexOf(arrived), 1);
      for (const action of trial.give({ kind: 'sample', sample: arrived.sample, receivedS: timeS })) {
        if (action.kind === 'send') takesEffectS = timeS + chain.latencyS + random() * chain.latencyJitterS;
      }
    }
  }
  return { trial, truthFt: truthFt ?? Number.NaN };
}

function sampleOf(
  timeS: number,
  heightFt: number,
  climbFpm: number,
  kt: number,
  northFt: number,
  power: number,
): Sample {
  return {
    timeS,
    latitudeDeg: 52.1 + northFt / (60 * 6076.12),
    longitudeDeg: -1.84,
    altitudeFt: ELEVATION_FT + heightFt,
    heightFt,
    indicatedAirspeedKt: kt,
    headingDeg: 0,
    bankDeg: 0,
    pitchDeg: 5,
    verticalSpeedFpm: climbFpm,
    powerFraction: power,
    onGround: heightFt <= 0,
  };
}

function holds(chain: Chain, measured: MeasuredLatency | null): MeasuredLatency | null {
  const { trial, truthFt } = failureOn(chain, measured);
  expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
  expect(Math.abs(truthFt - chain.drawnFt)).toBeLessThanOrEqual(MOST_OFF_FT);
  const { figures } = trial.event('power-fell') ?? {};
  expect(figures?.plannedHeightFt).toBe(chain.drawnFt);
  // The height reported is that of the flight, not of the plan.
  expect(Math.abs((figures?.heightFt ?? 0) - truthFt)).toBeLessThanOrEqual(MOST_OFF_FT);
  return learnt(trial);
}

function learnt({ state: { fall } }: ReturnType<typeof armedTrial>): MeasuredLatency | null {
  if (fall === null || fall.latencyS === null || fall.pace === null) return null;
  return { latencyS: fall.latencyS, pace: fall.pace };
}

const chains = (change: { readonly [key in keyof Chain]?: fc.Arbitrary<Chain[key]> }): fc.Arbitrary<Chain> =>
  fc.record({
    rateHz: fc.integer({ min: 10, max: 60 }),
    climbFpm: fc.integer({ min: 500, max: 2500 }),
    latencyS: fc.constant(0.05),
    latencyJitterS: fc.constant(0.02),
    wayJitterS: fc.double({ min: 0, max: 0.03, noNaN: true }),
    samplingJitterS: fc.double({ min: 0, max: 0.01, noNaN: true }),
    overtaking: fc.boolean(),
    seed: fc.nat(),
    drawnFt: fc.integer({ min: 150, max: 700 }),
    ...change,
  }) as fc.Arbitrary<Chain>;

describe('the failure takes effect within 5 ft of the drawn height', () => {
  test('at 20 samples a second, 1,500 ft/min, 50 ms of latency and 30 ms of jitter', () => {
    const chain = chains({ rateHz: fc.constant(20), climbFpm: fc.constant(1500), wayJitterS: fc.constant(0.03) });
    fc.assert(
      fc.property(chain, (each) => void holds(each, null)),
      { numRuns: 60 },
    );
  });
  test('at 10 to 60 samples a second and 500 to 2,500 ft/min', () => {
    fc.assert(
      fc.property(chains({}), (each) => void holds(each, null)),
      { numRuns: 60 },
    );
  });
  test('on a link that takes up to half a second, once its first failure has told so', () => {
    const slow = chains({ latencyS: fc.double({ min: 0.2, max: 0.5, noNaN: true }) });
    fc.assert(
      fc.property(slow, (chain) => {
        const measured = learnt(failureOn(chain, null).trial);
        // What was learnt may be off by half a sample and by the jitter of command and way.
        expect(Math.abs((measured?.latencyS ?? 0) - chain.latencyS)).toBeLessThan(0.5 / chain.rateHz + 0.07);
        const second = failureOn(chain, measured);
        expect(Math.abs(second.truthFt - chain.drawnFt)).toBeLessThanOrEqual(MOST_OFF_FT);
      }),
      { numRuns: 40 },
    );
  });
});

test('a link of half a second, not told before, misses by its climb in that time: so the latency does count', () => {
  const chain: Chain = {
    rateHz: 20,
    climbFpm: 1500,
    latencyS: 0.5,
    latencyJitterS: 0,
    wayJitterS: 0,
    samplingJitterS: 0,
    overtaking: false,
    seed: 1,
    drawnFt: 500,
  };
  // 0.45 s that nobody knew of, at 25 ft/s.
  expect(failureOn(chain, null).truthFt - 500).toBeGreaterThan(9);
  expect(failureOn(chain, null).truthFt - 500).toBeLessThan(13);
});
