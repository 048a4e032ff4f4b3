// The verdict: from the recorded state at the failure, what height a return needed and what there was.
import type { Verdict } from '@stillprop/contracts';
import type { FlightStart, FlyRequest } from '@stillprop/physics';
import type { Attempt } from './attempt.js';
import { valueAt } from './columns.js';
import { airOf } from './derivedColumns.js';
import { meanAround } from './flight.js';
import { type NeededHeight, neededHeight } from './neededHeight.js';
import { crashSinkFpm } from './touchdown.js';
import { feet, rounded } from './words.js';

/** State at the failure is a mean over ±0.25 s. */
const MEAN_HALF_S = 0.25;
const FULL_POWER_BEFORE_S = 0.2;

/**
 * Flies the scenario's technique (turning back, should it say ahead) by the model, from the place, height, speed,
 * heading and climb recorded at the failure, in the recorded weather, with the propeller and power of the failure.
 * Needed is the lowest height at that place from which it stops on the runway, having met it more gently than a crash;
 * a return existed if it does from the height there was. Null for needed: none found (see `neededHeight`).
 *
 * All figures are null, and the sentence says why, without a failure, without a position, over a floor, or where the
 * recorded numbers are outside what the model flies.
 */
export function verdictOf(attempt: Attempt): Verdict {
  const { flight, moments, recording } = attempt;
  const { lossS } = moments;
  const { scenario, runway, weather } = recording.header;
  if (lossS === null) return unknown('No verdict: there was no loss of power in this recording.', null);
  const hadFt = rounded(valueAt(flight.timeS, flight.heightFt, lossS), 0);
  if (scenario.practice.from === 'floor')
    return unknown('No verdict: practice over a floor has no runway to return to.', hadFt);
  const place = flight.place(lossS);
  if (place === null) return unknown(`No verdict: runway ${runway.name} has no position in this recording.`, hadFt);
  if (airOf(weather, runway.elevationFt) === null)
    return unknown(
      `No verdict: at this elevation and QNH the air over runway ${runway.name} is beyond the model.`,
      hadFt,
    );
  try {
    const found = neededHeight(
      requestOf(attempt, hadFt),
      startOf(attempt, lossS, place),
      crashSinkFpm(recording.header.rubric),
    );
    const { neededFt, returnExisted } = found;
    return { text: verdictText(found, hadFt), neededFt, hadFt, returnExisted };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return unknown(`No verdict: ${error.message}.`, hadFt);
  }
}

function verdictText({ neededFt, returnExisted, reached, triedUpToFt }: NeededHeight, hadFt: number): string {
  if (neededFt === null && reached)
    return `From where the power was lost, at ${feet(hadFt)}, the model reaches the runway but finds no height from which it also stops on it.`;
  if (neededFt === null)
    return `From where the power was lost, at ${feet(hadFt)}, the model finds no return, not even from ${feet(triedUpToFt)}.`;
  const figures = `From where the power was lost a return needed ${feet(neededFt)}. There were ${feet(hadFt)}`;
  if (returnExisted) return `${figures}.`;
  if (hadFt < neededFt) return `${figures}: ${feet(neededFt - hadFt)} too few.`;
  return `${figures}, but from that height the model lands too far along to stop.`;
}

function unknown(text: string, hadFt: number | null): Verdict {
  return { text, neededFt: null, hadFt, returnExisted: null };
}

function requestOf({ recording }: Attempt, hadFt: number): FlyRequest {
  const { aircraft, runway, weather, scenario, drawn } = recording.header;
  return {
    aircraft,
    runway: { ...runway, headingTrueDeg: compass(runway.headingTrueDeg) },
    weather: { ...weather, winds: weather.winds.map((wind) => ({ ...wind, fromTrueDeg: compass(wind.fromTrueDeg) })) },
    technique: { ...scenario.technique, turn: scenario.technique.turn === 'ahead' ? 'best' : scenario.technique.turn },
    failure: { heightFt: hadFt, powerFraction: drawn.powerFraction, propeller: drawn.propeller },
  };
}

function startOf({ flight }: Attempt, lossS: number, place: { alongFt: number; acrossFt: number }): FlightStart {
  const { timeS, powerFraction, gearFraction, flapFraction } = flight;
  const mean = (column: Float64Array) => meanAround(flight, column, lossS, MEAN_HALF_S);
  const power = powerFraction === null ? 1 : valueAt(timeS, powerFraction, lossS - FULL_POWER_BEFORE_S);
  return {
    ...place,
    heightFt: valueAt(timeS, flight.heightFt, lossS),
    ktas: mean(flight.tasKt),
    headingTrueDeg: compass(mean(flight.headingDeg)),
    verticalSpeedFpm: mean(flight.verticalSpeedFpm),
    bankDeg: mean(flight.bankDeg),
    loadFactor: mean(flight.loadFactor),
    powerFraction: Math.max(0, Math.min(1, power)),
    gearDown: gearFraction !== null && valueAt(timeS, gearFraction, lossS) > 0.5,
    flapDown: flapFraction !== null && valueAt(timeS, flapFraction, lossS) > 0.5,
  };
}

function compass(angleDeg: number): number {
  const turned = angleDeg % 360;
  return turned < 0 ? turned + 360 : turned;
}
