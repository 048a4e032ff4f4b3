// What each deviation from the technique cost, in feet of height that a return needed, by flying the model again.
import type { Costs } from '@stillprop/contracts';
import type { FlyRequest, TechniqueNumbers } from '@stillprop/physics';
import type { Attempt } from './attempt.js';
import { meanSpeedOff } from './criteria/airspeed.js';
import { bankCriterion } from './criteria/bank.js';
import { delayCriterion } from './criteria/delay.js';
import { reachingHeight } from './neededHeight.js';
import { momentOf } from './recordedMoment.js';
import { returning } from './returnMoment.js';
import { crashSinkFpm } from './touchdown.js';
import { degrees, feet, knots, seconds, secondsAsked } from './words.js';

/** One thing that was flown otherwise than asked. */
interface Deviation {
  readonly code: 'delay' | 'bank' | 'airspeed' | 'side';
  readonly text: string;
  /** Makes a technique deviate so. */
  readonly flown: (technique: TechniqueNumbers) => TechniqueNumbers;
}

/** Less than this is no deviation: it is below what a recording tells (`measured` of the criteria). */
const LEAST_DELAY_S = 0.05;
const LEAST_BANK_DEG = 0.5;
const LEAST_SPEED_KT = 0.5;

/**
 * The currency is the lowest height, at the place and in the state of the loss of power, from which a technique reaches
 * the runway by the model: for the technique asked, for the technique as it was flown (delay, mean bank in the turn,
 * mean deviation of speed, side of the turn, all else as asked), and for that with one deviation put right at a time.
 * A row is what putting right gains; what the rows do not explain together is the row `interaction`. Whole feet: the
 * rows add up to the total. A row below 0 gained height.
 *
 * What the model leaves out (speed that wanders, a slow roll, a late push) is in no row.
 *
 * @returns null where there is no verdict to compare with, for a landing ahead, or where nothing decisive was done;
 *   with `totalFt` null and a sentence where the model finds no way back with the technique as it was flown or asked.
 */
export function deviationCosts(attempt: Attempt): Costs | null {
  const { flight, moments, kind, recording } = attempt;
  const turned = moments.turn?.side ?? null;
  if (kind !== 'return' || moments.lossS === null || moments.firstActionS === null || turned === null) return null;
  const side = turned > 0 ? 'right' : 'left';
  const found = momentOf(flight, moments.lossS, attempt.wind?.weather);
  if (!found.ok) return null;
  const { start } = found.moment;
  const request = returning(found.moment.request);
  const crashFpm = crashSinkFpm(recording.header.rubric);
  const needed = (technique: TechniqueNumbers) => reachingHeight({ ...request, technique }, start, crashFpm);
  try {
    const asked: TechniqueNumbers = { ...request.technique, turn: sideAsked(request, side, start.heightFt, needed) };
    const deviations = deviationsOf(attempt, asked, side);
    const as = (chosen: readonly Deviation[]) => chosen.reduce((technique, { flown }) => flown(technique), asked);
    const askedFt = needed(asked);
    const flownFt = deviations.length === 0 ? askedFt : needed(as(deviations));
    if (askedFt === null || flownFt === null) return without(askedFt, flownFt);
    const rows = deviations.map((deviation) => {
      const rest = deviations.filter((other) => other !== deviation);
      const rightFt = rest.length === 0 ? askedFt : needed(as(rest));
      return { code: deviation.code, text: deviation.text, costFt: rightFt === null ? null : flownFt - rightFt };
    });
    if (rows.some(({ costFt }) => costFt === null)) return without(askedFt, null);
    const known = rows.map((row) => ({ ...row, costFt: Math.round(row.costFt ?? 0) || 0 }));
    const totalFt = Math.round(flownFt - askedFt) || 0;
    const interactionFt = totalFt - known.reduce((sum, { costFt }) => sum + costFt, 0);
    const together = {
      code: 'interaction',
      text: 'Together they cost other than one by one',
      costFt: interactionFt,
    } as const;
    return {
      text: sentence(totalFt, known),
      neededAskedFt: Math.round(askedFt),
      neededFlownFt: Math.round(askedFt) + totalFt,
      totalFt,
      rows: known.length > 1 && interactionFt !== 0 ? [...known, together] : known,
    };
  } catch (error) {
    if (error instanceof RangeError) return null; // beyond what the model flies: the verdict says why
    throw error;
  }
}

type Side = 'left' | 'right';

/**
 * The side asked. Where the technique leaves it open, either is right that brings back from the height there was: the
 * one flown if it does, else the one from which less height is needed.
 */
function sideAsked(
  { technique }: FlyRequest,
  flown: Side,
  hadFt: number,
  needed: (technique: TechniqueNumbers) => number | null,
): Side {
  if (technique.turn === 'left' || technique.turn === 'right') return technique.turn;
  const from = (turn: Side) => needed({ ...technique, turn }) ?? Number.POSITIVE_INFINITY;
  const flownFt = from(flown);
  if (flownFt <= hadFt) return flown;
  const other = flown === 'left' ? 'right' : 'left';
  return from(other) < flownFt ? other : flown;
}

function deviationsOf(attempt: Attempt, asked: TechniqueNumbers, side: Side): Deviation[] {
  const found: Deviation[] = [];
  const delayS = delayCriterion(attempt).measured;
  if (delayS !== null && Math.abs(delayS - asked.delayS) >= LEAST_DELAY_S) {
    found.push({
      code: 'delay',
      text: `Acting after ${seconds(delayS)}, where ${secondsAsked(asked.delayS)} were asked`,
      flown: (technique) => ({ ...technique, delayS }),
    });
  }
  const bankDeg = bankCriterion(attempt).measured;
  if (bankDeg !== null && Math.abs(bankDeg - asked.bankDeg) >= LEAST_BANK_DEG) {
    found.push({
      code: 'bank',
      text: `Turning with ${degrees(bankDeg)} of bank, where ${degrees(asked.bankDeg)} were asked`,
      flown: (technique) => ({ ...technique, bankDeg }),
    });
  }
  const offKt = meanSpeedOff(attempt);
  if (offKt !== null && Math.abs(offKt) >= LEAST_SPEED_KT) {
    found.push({
      code: 'airspeed',
      text: `Gliding ${knots(Math.abs(offKt))} ${offKt > 0 ? 'faster' : 'slower'} than asked, on average`,
      flown: (technique) => faster(technique, offKt),
    });
  }
  const isNamed = attempt.recording.header.scenario.technique.turn !== 'best';
  if (side !== asked.turn) {
    found.push({
      code: 'side',
      text: `Turning ${side}, where ${asked.turn} ${isNamed ? 'was asked' : 'needs less height'}`,
      flown: (technique) => ({ ...technique, turn: side }),
    });
  }
  return found;
}

function faster(technique: TechniqueNumbers, byKt: number): TechniqueNumbers {
  const { straightKcas, alignKcas, turnEntryKcas } = technique;
  return {
    ...technique,
    targetKcas: technique.targetKcas + byKt,
    ...(straightKcas === undefined ? {} : { straightKcas: straightKcas + byKt }),
    ...(alignKcas === undefined ? {} : { alignKcas: alignKcas + byKt }),
    ...(turnEntryKcas === undefined ? {} : { turnEntryKcas: turnEntryKcas + byKt }),
  };
}

function without(askedFt: number | null, flownFt: number | null): Costs {
  const whose = askedFt === null ? 'the technique asked' : 'the technique as it was flown';
  return {
    text: `What each deviation cost cannot be told: with ${whose} the model finds no way back from there.`,
    neededAskedFt: askedFt === null ? null : Math.round(askedFt),
    neededFlownFt: flownFt === null ? null : Math.round(flownFt),
    totalFt: null,
    rows: [],
  };
}

function sentence(totalFt: number, rows: readonly { readonly code: string; readonly costFt: number }[]): string {
  if (rows.length === 0) return 'It was flown as asked: no deviation cost any height.';
  if (totalFt <= 0)
    return `As it was flown, a return needed ${totalFt === 0 ? 'as much height' : `${feet(-totalFt)} less`} as asked.`;
  return `As it was flown, a return needed ${feet(totalFt)} more than with the technique asked.`;
}
