// The schedule of bank and speed that a search is free to change: its numbers, their limits, first guesses and steps.
import type { RandomSource } from './random.js';
import type { FlyRequest, TechniqueNumbers } from './request.js';
import { USUAL_ALIGN_TIME_S } from './steering.js';
import { clamp } from './units.js';

/** The free part of a technique, every number filled in; named as in {@link TechniqueNumbers}. */
export interface Schedule {
  readonly turnEntryKcas: number;
  readonly targetKcas: number;
  readonly straightKcas: number;
  readonly alignKcas: number;
  readonly alignBankDeg: number;
  readonly alignTimeS: number;
  readonly bankKept: boolean;
  readonly speedEased: boolean;
}

/** How far a first step changes each number (standard deviation). */
const STEPS = [
  { name: 'turnEntryKcas', stepSd: 3 },
  { name: 'targetKcas', stepSd: 2.5 },
  { name: 'straightKcas', stepSd: 4 },
  { name: 'alignKcas', stepSd: 3 },
  { name: 'alignBankDeg', stepSd: 5 },
  { name: 'alignTimeS', stepSd: 0.8 },
] as const;

/** How often a step changes one of the choices. */
const FLIP_SHARE = 0.06;

const LEAST_ALIGN_BANK_DEG = 5;
const LEAST_ALIGN_TIME_S = 1.5;
const MOST_ALIGN_TIME_S = 8;

/** The schedule of a technique, what it leaves out filled in. */
export function scheduleOf(given: TechniqueNumbers): Schedule {
  const { targetKcas, bankDeg } = given;
  return {
    turnEntryKcas: given.turnEntryKcas ?? targetKcas,
    targetKcas,
    straightKcas: given.straightKcas ?? targetKcas,
    alignKcas: given.alignKcas ?? targetKcas,
    alignBankDeg: given.alignBankDeg ?? Math.min(0.6 * bankDeg, 25),
    alignTimeS: given.alignTimeS ?? USUAL_ALIGN_TIME_S,
    bankKept: given.bankKept ?? false,
    speedEased: given.speedEased ?? false,
  };
}

/** A technique flown to another schedule. */
export function techniqueOf(given: TechniqueNumbers, schedule: Schedule): TechniqueNumbers {
  return { ...given, ...schedule };
}

/** A schedule changed at random, by a share of the first steps. */
export function stepped(from: Schedule, share: number, random: RandomSource): Schedule {
  const numbers = STEPS.map(({ name, stepSd }) => [name, from[name] + share * stepSd * random.normal()]);
  const flip = (value: boolean) => (random.uniform() < FLIP_SHARE ? !value : value);
  return {
    ...from,
    ...Object.fromEntries(numbers),
    bankKept: flip(from.bankKept),
    speedEased: flip(from.speedEased),
  };
}

/** Stall speed at the mass (kt CAS). */
export function stallKcas({ aircraft }: FlyRequest): number {
  return aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
}

/**
 * Two schedules to begin with. In one the bank yields: the slowest turn with the bank at the margin, a leg near least
 * sink over the margin, a slow and shallow alignment. In the other it is kept: as slow as the margin allows into the
 * turn, faster out of it, and a soft alignment on which the speed is let go.
 */
export function firstGuesses(request: FlyRequest): readonly Schedule[] {
  const { stallMargin, bankDeg } = request.technique;
  const leastKcas = stallMargin * stallKcas(request);
  const atBankKcas = leastKcas / Math.sqrt(Math.cos((bankDeg * Math.PI) / 180));
  return [
    {
      turnEntryKcas: atBankKcas,
      targetKcas: atBankKcas,
      straightKcas: 1.1 * leastKcas,
      alignKcas: 1.04 * leastKcas,
      alignBankDeg: Math.min(18, bankDeg),
      alignTimeS: USUAL_ALIGN_TIME_S,
      bankKept: false,
      speedEased: false,
    },
    {
      turnEntryKcas: leastKcas,
      targetKcas: atBankKcas,
      straightKcas: 1.1 * leastKcas,
      alignKcas: leastKcas,
      alignBankDeg: Math.min(26, bankDeg),
      alignTimeS: 2 * USUAL_ALIGN_TIME_S,
      bankKept: true,
      speedEased: true,
    },
  ];
}

export interface ScheduleLimits {
  readonly leastKcas: number;
  readonly mostKcas: number;
  readonly bankDeg: number;
}

/** Speeds from the stall times the margin to twice the stall, bank up to the technique's. */
export function limitsOf(request: FlyRequest): ScheduleLimits {
  const stall = stallKcas(request);
  const { stallMargin, bankDeg } = request.technique;
  return { leastKcas: stallMargin * stall, mostKcas: Math.min(2 * stall, 200), bankDeg };
}

/** A schedule brought inside its limits. */
export function within(schedule: Schedule, { leastKcas, mostKcas, bankDeg }: ScheduleLimits): Schedule {
  const speed = (kcas: number) => clamp(kcas, leastKcas, mostKcas);
  return {
    ...schedule,
    turnEntryKcas: speed(schedule.turnEntryKcas),
    targetKcas: speed(schedule.targetKcas),
    straightKcas: speed(schedule.straightKcas),
    alignKcas: speed(schedule.alignKcas),
    alignBankDeg: clamp(schedule.alignBankDeg, Math.min(LEAST_ALIGN_BANK_DEG, bankDeg), bankDeg),
    alignTimeS: clamp(schedule.alignTimeS, LEAST_ALIGN_TIME_S, MOST_ALIGN_TIME_S),
  };
}
