// A free search for the lowest return of any schedule: bank and speed as piecewise-linear functions of time, by
// differential evolution (Storn and Price 1997). It knows no phases and no aim; a bound to hold guided returns against.
import { groundRollM } from './groundRoll.js';
import { type Contact, judgeContact } from './outcome.js';
import { FLARE_HEIGHT_M, flareLiftCommand, flareSlopePerS, pushGoal, pushTowards } from './pilot.js';
import { randomSource } from './random.js';
import type { FlyRequest } from './request.js';
import { buildScene, moveFailure, resetModel, type Scene } from './scene.js';
import { BANK, H, LIFT, VH, VX, VY } from './state.js';
import { bankLimitNearGroundRad } from './steering.js';
import { clamp, M_PER_FT, MPS_PER_KT, RAD_PER_DEG, wrapRad } from './units.js';

const STEP_S = 0.1;
const TIME_LIMIT_S = 200;
/** Corners of each schedule, evenly spaced from the end of the delay over a time that is free too. */
const BANKS = 12;
const SPEEDS = 8;
/** Genes: failure height (ft), time of the schedules (s), banks (deg, right positive), speeds gone for (kt CAS). */
const FIRST_BANK = 2;
const FIRST_SPEED = FIRST_BANK + BANKS;
/** A metre missed costs as much as so many feet of failure height. */
const FT_PER_M_MISSED = 10;
/** More than this is a circle, not a return (rad). */
const CIRCLING_RAD = 330 * RAD_PER_DEG;

export interface FreeReturn {
  /** Failure height of the best flight (ft above the runway). */
  readonly heightFt: number;
  readonly contact: Contact;
  readonly flights: number;
}

/**
 * The lowest failure height some schedule returns from, as far as one seeded run finds it. Bank up to the technique's,
 * lift at most the largest over the margin squared until the flare, lags, roll rate, bank limit near the ground, gear
 * height and flare as flown by the modelled pilot. For a home runway without slope, a dead engine and no flap.
 */
export function freeReturn(
  request: FlyRequest,
  { side, seed, generations, members = 80 }: { side: 1 | -1; seed: number; generations: number; members?: number },
): FreeReturn {
  const scene = buildScene(request, undefined);
  const random = randomSource(seed);
  const { bankDeg, stallMargin } = request.technique;
  const stallKcas = scene.plane.stallCleanMps / MPS_PER_KT;
  const span = (low: number, high: number, count: number) => Array.from({ length: count }, () => ({ low, high }));
  const limits = [
    { low: 50, high: 2_500 },
    { low: 20, high: 90 },
    ...span(-bankDeg, bankDeg, BANKS),
    ...span(0.9 * stallMargin * stallKcas, 1.7 * stallKcas, SPEEDS),
  ];
  let flights = 0;
  const costOf = (genes: readonly number[]) => {
    flights++;
    const { contact, turnedRad } = flyFree(scene, genes);
    // Landing the wrong way round leads nowhere: it costs less the nearer the track comes to the runway.
    const backwards = Math.abs(contact.headingErrorRad) > Math.PI / 2;
    const missM =
      (backwards ? contact.miss - 7_000 + 3_000 * Math.abs(contact.headingErrorRad) : contact.miss) +
      (turnedRad > CIRCLING_RAD ? 3_000 : 0);
    return (genes[0] as number) + FT_PER_M_MISSED * missM;
  };
  /** Somewhere: a turn to the side, then wings level or a little the other way. */
  const anyone = () => {
    const turning = Math.floor(BANKS * (0.35 + 0.35 * random.uniform()));
    return limits.map(({ low, high }, gene) => {
      if (gene === 0) return 900 + 300 * random.uniform();
      if (gene === 1) return 30 + 30 * random.uniform();
      if (gene >= FIRST_SPEED) return low + random.uniform() * (high - low);
      const share = gene - FIRST_BANK < turning ? 0.9 : -0.3 * random.uniform();
      return clamp(side * share * bankDeg + 8 * random.normal(), low, high);
    });
  };
  const population = Array.from({ length: members }, anyone);
  const costs = population.map(costOf);
  const some = () => Math.floor(random.uniform() * members);
  for (let trial = 0; trial < generations * members; trial++) {
    const member = trial % members;
    const weight = 0.4 + 0.5 * random.uniform();
    const crossing = random.uniform() < 0.5 ? 0.9 : 0.3;
    // Towards itself, or towards the best of an eighth of the others.
    const rivals = Array.from({ length: random.uniform() < 0.6 ? members >> 3 : 0 }, some);
    const towards = rivals.reduce(
      (best, one) => ((costs[one] as number) < (costs[best] as number) ? one : best),
      rivals[0] ?? member,
    );
    const [plus, minus, always] = [some(), some(), Math.floor(random.uniform() * limits.length)];
    const at = (index: number, gene: number) => population[index]?.[gene] as number;
    const genes = limits.map(({ low, high }, gene) => {
      const own = at(member, gene);
      if (gene !== always && random.uniform() >= crossing) return own;
      return clamp(own + weight * (at(towards, gene) - own + at(plus, gene) - at(minus, gene)), low, high);
    });
    const cost = costOf(genes);
    if (cost > (costs[member] as number)) continue;
    population[member] = genes;
    costs[member] = cost;
  }
  const best = costs.reduce((least, cost, index) => (cost < (costs[least] as number) ? index : least), 0);
  const genes = population[best] as number[];
  return { heightFt: genes[0] as number, contact: flyFree(scene, genes).contact, flights };
}

/** Value of a schedule between its corners, `share` 0 to 1 of the way. */
function corner(genes: readonly number[], first: number, count: number, share: number): number {
  const at = clamp(share, 0, 1) * (count - 1);
  const before = Math.min(Math.floor(at), count - 2);
  const value = genes[first + before] as number;
  return value + (at - before) * ((genes[first + before + 1] as number) - value);
}

function flyFree(scene: Scene, genes: readonly number[]) {
  const { model, technique, request, start } = scene;
  moveFailure(scene, genes[0] as number);
  resetModel(scene);
  model.rollRateLimitRadS = technique.rollRateRadS;
  const goal = pushGoal(technique.stallMargin, technique.minimumLoadFactor);
  const state = Float64Array.from(start);
  const before = Float64Array.from(start);
  let timeS = 0;
  let flareSlope: number | null = null;
  let stalled = false;
  let turned = 0;
  model.observe(state);
  let heading = Math.atan2(model.airY, model.airX);
  const law = (_: typeof model, now: Float64Array) => {
    if (model.liftHeld) {
      model.bankCommandRad = start[BANK] as number;
      return;
    }
    const share = (timeS - technique.delayS) / (genes[1] as number);
    const limit = bankLimitNearGroundRad(now[H] as number, technique.bankRad);
    model.bankCommandRad = clamp(corner(genes, FIRST_BANK, BANKS, share) * RAD_PER_DEG, -limit, limit);
    goal.targetMps = corner(genes, FIRST_SPEED, SPEEDS, share) * MPS_PER_KT;
    if (flareSlope === null) pushTowards(model, now, goal);
    else model.liftCommand = flareLiftCommand(model, now, flareSlope);
  };
  while ((state[H] as number) > 0 && timeS < TIME_LIMIT_S) {
    const heightM = state[H] as number;
    model.liftHeld = timeS < technique.delayS - 1e-9;
    if (!model.liftHeld) {
      model.gearDown ||= technique.gearDownM !== null && heightM < technique.gearDownM;
      if (heightM < FLARE_HEIGHT_M) flareSlope ??= flareSlopePerS(-(state[VH] as number), heightM);
    }
    before.set(state);
    model.step(state, STEP_S, law);
    timeS += STEP_S;
    model.observe(state);
    stalled ||= (state[LIFT] as number) > model.liftMax * (1 + 1e-9);
    const now = Math.atan2(model.airY, model.airX);
    turned += wrapRad(now - heading);
    heading = now;
  }
  const share = (before[H] as number) / ((before[H] as number) - (state[H] as number));
  for (let i = 0; i < state.length; i++)
    state[i] = (before[i] as number) + share * ((state[i] as number) - (before[i] as number));
  const rollM = groundRollM(
    request.aircraft.landingRollFt * M_PER_FT,
    Math.hypot(state[VX] as number, state[VY] as number),
    scene.referenceTouchdownMps,
    request.runway.surface,
    0,
  );
  return { contact: judgeContact(state, request.runway, -1, rollM, stalled), turnedRad: Math.abs(turned) };
}
