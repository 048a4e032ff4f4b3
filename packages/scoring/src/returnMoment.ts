// Where a return of this attempt is reckoned from: the state at the loss of power, with a technique that turns back.
import type { FlyRequest, Recording, ReturnMoment } from '@stillprop/contracts';
import { checkFlightStart, checkFlyRequest } from '@stillprop/physics';
import { attemptOf } from './attempt.js';
import { recordedMoment } from './recordedMoment.js';
import type { FlownWind } from './windFlown.js';

/**
 * The moment the verdict flies from. Not found for the reasons of {@link recordedMoment}, or when a number is outside
 * what the model flies.
 */
export function returnMoment(recording: Recording): ReturnMoment {
  const found = recordedMoment(recording);
  if (!found.ok) return found;
  const { wind } = attemptOf(recording);
  const moment = { ...found.moment, request: returning(inWind(found.moment.request, wind)) };
  try {
    checkFlyRequest(moment.request);
    checkFlightStart(moment.start);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { ok: false, why: error.message };
  }
  return { ok: true, moment };
}

/** In the wind that the verdict reckons with. */
function inWind(request: FlyRequest, wind: FlownWind | null): FlyRequest {
  return wind === null || wind.source === 'scenario' ? request : { ...request, weather: wind.weather };
}

/** The same, turning back should the technique say ahead: what a return would have needed is the question. */
export function returning(request: FlyRequest): FlyRequest {
  const { technique } = request;
  return technique.turn === 'ahead' ? { ...request, technique: { ...technique, turn: 'best' } } : request;
}
