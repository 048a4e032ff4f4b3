// A moment of a recording as the flight model takes it: where the aeroplane was, how it moved, and on what day.
import type { FlyRequest, Recording, Weather } from '@stillprop/contracts';
import type { FlightStart } from '@stillprop/physics';
import { valueAt } from './columns.js';
import { airOf } from './derivedColumns.js';
import { type Flight, flightOf, meanAround } from './flight.js';
import { momentsOf } from './moments.js';
import { withoutPauses } from './pauses.js';
import { unmeasuredOf } from './unmeasured.js';
import { feet, rounded } from './words.js';

/** State is a mean over ±0.25 s. */
const MEAN_HALF_S = 0.25;
const FULL_POWER_BEFORE_S = 0.2;

/** What to fly from a moment of a recording: `flyAttempt(request, { start })` and its like. */
export interface RecordedMoment {
  /** Simulator seconds of the recording. */
  readonly timeS: number;
  /** Aeroplane, runway, weather and technique of the header; the failure as drawn, at the height there was. */
  readonly request: FlyRequest;
  readonly start: FlightStart;
}

export type RecordedMomentFound =
  | { readonly ok: true; readonly moment: RecordedMoment }
  /** `why`: half a sentence without capital and full stop. */
  | { readonly ok: false; readonly why: string };

/**
 * The state at a time of a recording (simulator seconds), or where the power fell when no time is given. Speed, heading,
 * climb and bank are means over ±0.25 s; the power is that of 0.2 s before, so that a failure just begun is not in it.
 * What is found may still be beyond what the model flies: `flyAttempt` then refuses it.
 *
 * Not found without a loss of power when no time is given, outside the recording, on the ground, over a floor, or
 * without a position of the runway.
 */
export function recordedMoment(recorded: Recording, recordedS?: number): RecordedMomentFound {
  if (unmeasuredOf(recorded, ['indicatedAirspeedKt']).length > 0)
    return { ok: false, why: 'the track log does not hold the airspeed' };
  const { recording, toFlown, toRecorded } = withoutPauses(recorded);
  const flight = flightOf(recording);
  const atS = recordedS === undefined ? undefined : toFlown(recordedS);
  const firstS = flight.timeS[0];
  const lastS = flight.timeS[flight.count - 1];
  if (firstS === undefined || lastS === undefined) return { ok: false, why: 'the recording holds no samples' };
  if (atS !== undefined && !(atS >= firstS && atS <= lastS))
    return {
      ok: false,
      why: `the recording runs from ${rounded(firstS, 1)} s to ${rounded(toRecorded(lastS), 1)} s, got ${recordedS} s`,
    };
  const timeS = atS ?? momentsOf(flight).lossS;
  if (timeS === null) return { ok: false, why: 'there was no loss of power in this recording' };
  const down = flight.onGround !== null && valueAt(flight.timeS, Float64Array.from(flight.onGround), timeS) > 0.5;
  const heightFt = valueAt(flight.timeS, flight.heightFt, timeS);
  if (down || heightFt < 0)
    return {
      ok: false,
      why: `at ${rounded(toRecorded(timeS), 1)} s the aeroplane is on the ground (${feet(heightFt)})`,
    };
  const found = momentOf(flight, timeS);
  return found.ok ? { ok: true, moment: { ...found.moment, timeS: toRecorded(found.moment.timeS) } } : found;
}

/** {@link recordedMoment} for columns that are there already and a time within them; on another day than the header's if asked. */
export function momentOf(
  flight: Flight,
  timeS: number,
  weather: Weather = flight.recording.header.weather,
): RecordedMomentFound {
  const { scenario, runway } = flight.recording.header;
  if (scenario.practice.from === 'floor') return { ok: false, why: 'practice over a floor has no runway to return to' };
  const place = flight.place(timeS);
  if (place === null) return { ok: false, why: `runway ${runway.name} has no position in this recording` };
  if (airOf(weather, runway.elevationFt) === null)
    return {
      ok: false,
      why: `at this elevation and QNH the air over runway ${runway.name} is beyond the model`,
    };
  return {
    ok: true,
    moment: { timeS, request: requestOf(flight, timeS, weather), start: startOf(flight, timeS, place) },
  };
}

function requestOf({ recording, timeS: times, heightFt }: Flight, timeS: number, weather: Weather): FlyRequest {
  const { aircraft, runway, scenario, drawn } = recording.header;
  return {
    aircraft,
    runway: { ...runway, headingTrueDeg: compass(runway.headingTrueDeg) },
    weather: { ...weather, winds: weather.winds.map((wind) => ({ ...wind, fromTrueDeg: compass(wind.fromTrueDeg) })) },
    technique: scenario.technique,
    failure: {
      heightFt: rounded(valueAt(times, heightFt, timeS), 0),
      powerFraction: drawn.powerFraction,
      propeller: drawn.propeller,
    },
  };
}

function startOf(flight: Flight, atS: number, place: { alongFt: number; acrossFt: number }): FlightStart {
  const { timeS, powerFraction, gearFraction, flapFraction } = flight;
  const mean = (column: Float64Array) => meanAround(flight, column, atS, MEAN_HALF_S);
  const power = powerFraction === null ? 1 : valueAt(timeS, powerFraction, atS - FULL_POWER_BEFORE_S);
  return {
    ...place,
    heightFt: valueAt(timeS, flight.heightFt, atS),
    ktas: mean(flight.tasKt),
    headingTrueDeg: compass(mean(flight.headingDeg)),
    verticalSpeedFpm: mean(flight.verticalSpeedFpm),
    bankDeg: mean(flight.bankDeg),
    loadFactor: mean(flight.loadFactor),
    powerFraction: Math.max(0, Math.min(1, power)),
    gearDown: gearFraction !== null && valueAt(timeS, gearFraction, atS) > 0.5,
    flapDown: flapFraction !== null && valueAt(timeS, flapFraction, atS) > 0.5,
  };
}

function compass(angleDeg: number): number {
  const turned = angleDeg % 360;
  return turned < 0 ? turned + 360 : turned;
}
