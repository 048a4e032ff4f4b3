// A technique that a search found, in words a pilot can fly, with what could be taught of it and what no one should try.
import { FLARE_HEIGHT_M } from './pilot.js';
import type { FlyRequest } from './request.js';
import { type Schedule, stallKcas } from './schedule.js';
import { captureFromM, captureOf } from './steering.js';
import { M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

/** One difference from the technique given. */
export interface TechniqueWord {
  /** What to do. */
  readonly text: string;
  /** What it is worth: more height is needed without it (ft); null: without it no return works. */
  readonly worthFt: number | null;
  /** False: flown so slow, or so low, that it is no technique for a pilot near the ground. */
  readonly teachable: boolean;
  /** Why it is, or is not. */
  readonly because: string;
}

/** A speed below this many stall speeds (at the load then flown) is left to the model; common practice, no source. */
const TAUGHT_STALLS = 1.2;
/** A bank above this is not taught below 100 ft; common practice, no source. */
const TAUGHT_LOW_BANK_DEG = 20;
/** Differences smaller than these are none (kt, deg, s). */
const SAME_KT = 1;
const SAME_DEG = 1;
const SAME_S = 0.3;
const FLARE_FT = Math.round(FLARE_HEIGHT_M / M_PER_FT);
/** Angle between leg and centreline for which the beginning of an alignment is told. */
const LEG_ANGLE_DEG = 45;

/**
 * The differences between two schedules, in the order they are flown.
 *
 * @param withoutFt Height more that is needed when a part is put back to what was given; infinite: no return.
 */
export function describeTechnique(
  request: FlyRequest,
  given: Schedule,
  found: Schedule,
  withoutFt: (part: Partial<Schedule>) => number,
): TechniqueWord[] {
  const { bankDeg, stallMargin } = request.technique;
  const stall = stallKcas(request);
  const words: TechniqueWord[] = [];
  const add = (text: string, names: readonly (keyof Schedule)[], teachable: boolean, because: string) => {
    const worthFt = withoutFt(Object.fromEntries(names.map((name) => [name, given[name]])));
    words.push({ text, worthFt: Number.isFinite(worthFt) ? worthFt : null, teachable, because });
  };
  /** For a speed that is flown so many times over the stall speed of the moment. */
  const addSpeed = (text: string, names: readonly (keyof Schedule)[], stalls: number, where: string) => {
    const over = Math.max(Math.round((stalls - 1) * 100), 0);
    const taught = stalls >= TAUGHT_STALLS;
    add(
      text,
      names,
      taught,
      `it leaves ${over} % over the stall speed of the moment${where}${taught ? '' : ': practice for a simulator'}`,
    );
  };
  const slower = (name: 'targetKcas' | 'straightKcas' | 'alignKcas') =>
    found[name] < given[name] ? 'slower' : 'faster';
  const differs = (name: 'turnEntryKcas' | 'targetKcas' | 'straightKcas' | 'alignKcas') =>
    Math.abs(found[name] - given[name]) > SAME_KT;

  if (found.bankKept && !given.bankKept)
    add(
      `at the end of the delay roll straight to ${bankDeg.toFixed(0)}° of bank and keep it: where the speed is too low for a level turn let the nose drop, and pull no harder than the stall margin of ${stallMargin.toFixed(2)} allows`,
      ['bankKept'],
      false,
      'the nose goes well down close to the ground, and pulling it up any sooner is a stall in a steep turn: practice for a simulator',
    );
  if (differs('turnEntryKcas') || differs('targetKcas')) {
    const turnStall = stall / Math.sqrt(Math.cos(bankDeg * RAD_PER_DEG));
    // Below the margin at this bank either the bank yields or the lift is held: the margin is what is left.
    const slowestKcas = Math.min(found.turnEntryKcas, found.targetKcas);
    const text =
      Math.abs(found.turnEntryKcas - found.targetKcas) > SAME_KT
        ? `begin the turn towards ${kt(found.turnEntryKcas)} and come out of it at ${kt(found.targetKcas)}, the speed changing evenly with the heading`
        : `turn ${slower('targetKcas')}, at ${kt(found.targetKcas)}`;
    addSpeed(text, ['turnEntryKcas', 'targetKcas'], Math.max(slowestKcas / turnStall, stallMargin), ' in the turn');
  }
  const alignStall = stall / Math.sqrt(Math.cos(found.alignBankDeg * RAD_PER_DEG));
  const alignStalls = Math.max(found.alignKcas / alignStall, stallMargin);
  if (found.speedEased && !given.speedEased)
    addSpeed(
      `go for ${kt(found.straightKcas)} after the turn, then let the speed change evenly with the height, to ${kt(found.alignKcas)} where the flare begins at ${FLARE_FT} ft`,
      ['speedEased', 'straightKcas', 'alignKcas'],
      alignStalls,
      ', close to the ground',
    );
  else {
    if (differs('straightKcas'))
      addSpeed(
        `fly the straight leg ${slower('straightKcas')}, at ${kt(found.straightKcas)}`,
        ['straightKcas'],
        found.straightKcas / stall,
        '',
      );
    if (differs('alignKcas'))
      addSpeed(
        `from the alignment on fly ${slower('alignKcas')}, at ${kt(found.alignKcas)}`,
        ['alignKcas'],
        alignStalls,
        ', close to the ground',
      );
  }
  if (
    Math.abs(found.alignBankDeg - given.alignBankDeg) > SAME_DEG ||
    Math.abs(found.alignTimeS - given.alignTimeS) > SAME_S
  ) {
    const fromFt = alignFromFt(found);
    const bank = Math.min(found.alignBankDeg, bankDeg);
    add(
      `align ${fromFt > alignFromFt(given) ? 'earlier' : 'later'}: from a leg at ${LEG_ANGLE_DEG}° to the centreline begin ${fromFt.toFixed(0)} ft beside it, with up to ${bank.toFixed(0)}° of bank, and take the bank off over the last ${(2 * found.alignTimeS).toFixed(0)} s`,
      ['alignBankDeg', 'alignTimeS'],
      bank <= TAUGHT_LOW_BANK_DEG,
      bank <= TAUGHT_LOW_BANK_DEG
        ? 'it takes less bank close to the ground'
        : `it takes more than ${TAUGHT_LOW_BANK_DEG}° of bank close to the ground: practice for a simulator`,
    );
  }
  return words;
}

/** How far beside the centreline the alignment begins, from a leg at 45° flown at the leg's speed. */
function alignFromFt({ straightKcas, alignBankDeg, alignTimeS }: Schedule): number {
  const closingMps = straightKcas * MPS_PER_KT * Math.sin(LEG_ANGLE_DEG * RAD_PER_DEG);
  return Math.round(captureFromM(closingMps, captureOf(alignBankDeg * RAD_PER_DEG, alignTimeS)) / M_PER_FT / 10) * 10;
}

function kt(kcas: number): string {
  return `${kcas.toFixed(0)} kt`;
}
