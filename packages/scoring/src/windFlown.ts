// The wind that heading, airspeed and the way over the ground tell of, how sure it is, and which wind the score reckons with.
import type { Weather } from '@stillprop/contracts';
import {
  compassDeg,
  M_PER_FT,
  MPS_PER_KT,
  RAD_PER_DEG,
  windProfile,
  windShare,
  withAddedWind,
} from '@stillprop/physics';
import { samplesWithin, valueAt } from './columns.js';
import type { Flight } from './flight.js';
import type { Moments } from './moments.js';
import { unmeasuredOf } from './unmeasured.js';

/** From so long before the loss of power, and so long after lift-off (s); down to this height (ft). */
const BEFORE_LOSS_S = 20;
const AFTER_LIFT_OFF_S = 5;
const DOWN_TO_FT = 100;
/** Means are taken over windows of this length; one that a gap stretches beyond the other is left out (s). */
const WINDOW_S = 1;
const LONGEST_S = 2.5;
const LEAST_WINDOWS = 15;
/** With less of a turn an error of the airspeed is not told apart from wind (deg). */
const LEAST_TURN_DEG = 90;
/** Airspeed and heading further off than this are no errors of instruments: nothing is estimated from them. */
const MOST_SPEED_ERROR = 0.2;
const MOST_HEADING_ERROR_DEG = 25;
/** No estimate from one short flight is surer (kt): log law, sideslip and lags are not perfect. Stated by us. */
const SUREST_KT = 0.3;
/** Neighbouring windows are never taken to be more alike than this. */
const MOST_ALIKE = 0.9;
/** Windows farther apart than this are taken to have nothing in common. */
const MOST_LAGS = 12;
/** The scenario's wind is contradicted by more than this, and by more than so many standard errors. Stated by us. */
const CONTRADICTS_KT = 3;
const CONTRADICTS_ERRORS = 2;
/** Height at which `withAddedWind` takes its wind (ft). */
const SURFACE_FT = 33;

export interface WindAt {
  readonly fromTrueDeg: number;
  readonly speedKt: number;
}

export interface FlownWind {
  /** Which wind verdict and costs reckon with. */
  readonly source: 'scenario' | 'estimated';
  /** Height above the runway of the winds told here: the mean of the flight they come from. */
  readonly heightFt: number;
  readonly scenario: WindAt;
  readonly estimate: (WindAt & { readonly standardErrorKt: number }) | null;
  /** The day with the wind that is reckoned with. */
  readonly weather: Weather;
  /** The same with the wind along the runway stronger by one standard error of that component (`sign` 1) or weaker (-1). */
  shifted(sign: 1 | -1): Weather;
}

/** Velocities in the runway frame (kt), right positive. */
interface Vector {
  readonly along: number;
  readonly across: number;
}
interface WindowMean {
  readonly air: Vector;
  readonly ground: Vector;
  readonly share: number;
  readonly heightFt: number;
  readonly headingDeg: number;
}

/**
 * Least squares of the velocity over the ground against that through the air, in means over 1 s from 20 s before the
 * loss of power down to 100 ft: ground = scenario's wind + z·air + added·(log law), with z an error of airspeed and
 * heading (complex: scale and turn) and `added` the wind that the scenario lacks, at 33 ft. The turn parts the two, so
 * one of 90° at least is needed. The standard error is the root mean square length of the error of the wind's vector;
 * it counts neighbouring residuals as alike as they are (gusts last several windows).
 *
 * The estimate takes the place of the scenario's wind where the two differ by more than 3 kt and more than two standard
 * errors.
 *
 * @returns null where there is no flight to speak of: no loss of power, or practice over a floor.
 */
export function windFlown(flight: Flight, moments: Moments): FlownWind | null {
  const { recording } = flight;
  const { weather, runway, scenario } = recording.header;
  if (moments.lossS === null || scenario.practice.from === 'floor') return null;
  const windows = windowsOf(flight, moments, moments.lossS);
  const meanHeightFt = windows.reduce((sum, { heightFt }) => sum + heightFt, 0) / windows.length;
  const heightFt = windows.length === 0 ? valueAt(flight.timeS, flight.heightFt, moments.lossS) : meanHeightFt;
  const given = windOf(weather, runway.headingTrueDeg)(heightFt);
  const common = { heightFt, scenario: fromOf(given, runway.headingTrueDeg) };
  const fit = fitted(windows);
  const asTold: FlownWind = { ...common, source: 'scenario', estimate: null, weather, shifted: () => weather };
  if (fit === null) return asTold;
  const share = windShare(heightFt, SURFACE_FT);
  const wind = { along: given.along + fit.added.along * share, across: given.across + fit.added.across * share };
  const standardErrorKt = Math.max(fit.standardErrorKt * share, SUREST_KT);
  const estimate = { ...fromOf(wind, runway.headingTrueDeg), standardErrorKt };
  const differsKt = Math.hypot(fit.added.along, fit.added.across) * share;
  if (differsKt <= Math.max(CONTRADICTS_KT, CONTRADICTS_ERRORS * standardErrorKt)) return { ...asTold, estimate };
  const added = (extraAlongKt: number): Weather => {
    const along = fit.added.along + extraAlongKt / share;
    const towardsDeg = runway.headingTrueDeg + Math.atan2(fit.added.across, along) / RAD_PER_DEG;
    return { ...weather, winds: [...withAddedWind(weather.winds, towardsDeg, Math.hypot(along, fit.added.across))] };
  };
  return {
    ...common,
    source: 'estimated',
    estimate,
    weather: added(0),
    shifted: (sign) => added((sign * standardErrorKt) / Math.SQRT2),
  };
}

/** The scenario's wind at a height, as components (kt). */
function windOf(weather: Weather, headingTrueDeg: number): (heightFt: number) => Vector {
  const profile = windProfile(weather.winds, headingTrueDeg);
  const into = new Float64Array(3);
  return (heightFt) => {
    profile.sample(heightFt * M_PER_FT, into);
    return { along: (into[0] as number) / MPS_PER_KT, across: (into[1] as number) / MPS_PER_KT };
  };
}

function fromOf({ along, across }: Vector, headingTrueDeg: number): WindAt {
  const fromRad = Math.atan2(-across, -along) + headingTrueDeg * RAD_PER_DEG;
  return { fromTrueDeg: compassDeg(fromRad), speedKt: Math.hypot(along, across) };
}

/** The ground velocities are less the scenario's wind, so that what is fitted is the wind it lacks. */
function windowsOf(flight: Flight, moments: Moments, lossS: number): WindowMean[] {
  const { recording, timeS, heightFt, tasFrom } = flight;
  const { derived = [], runway, weather } = recording.header;
  const isTold = unmeasuredOf(recording, ['indicatedAirspeedKt', 'headingDeg']).length === 0;
  if (!isTold || tasFrom === 'indicated' || derived.includes('headingDeg') || derived.includes('indicatedAirspeedKt'))
    return [];
  const velocities = velocitiesOf(flight);
  if (velocities === null) return [];
  const fromS = Math.max(lossS - BEFORE_LOSS_S, (moments.liftOffS ?? timeS[0] ?? 0) + AFTER_LIFT_OFF_S);
  const span = samplesWithin(timeS, fromS, moments.contactS ?? moments.endS);
  if (span === null) return [];
  const lacking = windOf(weather, runway.headingTrueDeg);
  const windows: WindowMean[] = [];
  for (let first = span.first; first < span.last; ) {
    let last = first + 1;
    while (last < span.last && (timeS[last] as number) - (timeS[first] as number) < WINDOW_S - 1e-6) last++;
    const lastsS = (timeS[last] as number) - (timeS[first] as number);
    const middleFt = valueAt(timeS, heightFt, ((timeS[first] as number) + (timeS[last] as number)) / 2);
    if (middleFt < DOWN_TO_FT && (timeS[first] as number) > lossS) break;
    if (lastsS >= WINDOW_S / 2 && lastsS <= LONGEST_S) {
      const { air, ground } = velocities(first, last);
      const wind = lacking(middleFt);
      windows.push({
        air,
        ground: { along: ground.along - wind.along, across: ground.across - wind.across },
        share: windShare(middleFt, SURFACE_FT),
        heightFt: middleFt,
        headingDeg: flight.headingDeg[last] as number,
      });
    }
    first = last;
  }
  return windows;
}

/** Mean velocities between two samples; over the ground as recorded, else from the places; null: neither is there. */
function velocitiesOf(flight: Flight): ((first: number, last: number) => { air: Vector; ground: Vector }) | null {
  const { timeS, tasKt, headingDeg, verticalSpeedFpm, groundspeedKt, trackDeg, recording } = flight;
  const { derived = [], runway } = recording.header;
  const isRecorded = !derived.includes('groundspeedKt') && !derived.includes('trackDeg');
  if (!(groundspeedKt !== null && trackDeg !== null && isRecorded) && !flight.placed) return null;
  const mean = (first: number, last: number, of: (i: number) => Vector): Vector => {
    let along = 0;
    let across = 0;
    for (let i = first; i < last; i++) {
      const half = ((timeS[i + 1] as number) - (timeS[i] as number)) / 2;
      const [a, b] = [of(i), of(i + 1)];
      along += (a.along + b.along) * half;
      across += (a.across + b.across) * half;
    }
    const lastsS = (timeS[last] as number) - (timeS[first] as number);
    return { along: along / lastsS, across: across / lastsS };
  };
  const polar = (speedKt: number, directionDeg: number): Vector => {
    const angle = (directionDeg - runway.headingTrueDeg) * RAD_PER_DEG;
    return { along: speedKt * Math.cos(angle), across: speedKt * Math.sin(angle) };
  };
  const air = (i: number) => {
    const climbKt = (verticalSpeedFpm[i] as number) / (MPS_PER_KT / M_PER_FT) / 60;
    return polar(Math.sqrt(Math.max((tasKt[i] as number) ** 2 - climbKt ** 2, 0)), headingDeg[i] as number);
  };
  const ground = (first: number, last: number): Vector => {
    if (groundspeedKt !== null && trackDeg !== null && isRecorded)
      return mean(first, last, (i) => polar(groundspeedKt[i] as number, trackDeg[i] as number));
    const [fromS, toS] = [timeS[first] as number, timeS[last] as number];
    const [from, to] = [flight.place(fromS), flight.place(toS)];
    const scale = 1 / (toS - fromS) / (MPS_PER_KT / M_PER_FT);
    return {
      along: ((to?.alongFt ?? 0) - (from?.alongFt ?? 0)) * scale,
      across: ((to?.acrossFt ?? 0) - (from?.acrossFt ?? 0)) * scale,
    };
  };
  return (first, last) => ({ air: mean(first, last, air), ground: ground(first, last) });
}

/** Complex least squares of ground = z·air + added·share; the wind at 33 ft and its standard error. */
function fitted(windows: readonly WindowMean[]): { added: Vector; standardErrorKt: number } | null {
  const count = windows.length;
  if (count < LEAST_WINDOWS || turnOf(windows) < LEAST_TURN_DEG) return null;
  let airAir = 0;
  let shareShare = 0;
  let airShare = { along: 0, across: 0 };
  let airGround = { along: 0, across: 0 };
  let shareGround = { along: 0, across: 0 };
  for (const { air, ground, share } of windows) {
    airAir += air.along ** 2 + air.across ** 2;
    shareShare += share ** 2;
    airShare = plus(airShare, scaled(conjugate(air), share));
    airGround = plus(airGround, times(conjugate(air), ground));
    shareGround = plus(shareGround, scaled(ground, share));
  }
  const determinant = airAir * shareShare - airShare.along ** 2 - airShare.across ** 2;
  if (!(determinant > 1e-6 * airAir * shareShare)) return null;
  const added = scaled(
    plus(scaled(shareGround, airAir), scaled(times(conjugate(airShare), airGround), -1)),
    1 / determinant,
  );
  const z = scaled(plus(scaled(airGround, shareShare), scaled(times(airShare, shareGround), -1)), 1 / determinant);
  const headingErrorDeg = Math.abs(Math.atan2(z.across, z.along)) / RAD_PER_DEG;
  if (Math.abs(Math.hypot(z.along, z.across) - 1) > MOST_SPEED_ERROR || headingErrorDeg > MOST_HEADING_ERROR_DEG)
    return null;
  const misfits = windows.map(({ air, ground, share }) =>
    plus(ground, scaled(plus(times(z, air), scaled(added, share)), -1)),
  );
  const squares = misfits.reduce((sum, { along, across }) => sum + along ** 2 + across ** 2, 0);
  // Two (complex) parameters take off more of what is alike than of what is not.
  const factor = varianceFactor(misfits, squares);
  const freedom = Math.max(count - 2 * factor, count / 4);
  const variance = ((squares / freedom) * airAir) / determinant;
  return { added, standardErrorKt: Math.sqrt(variance * factor) };
}

/**
 * By how much the likeness of misfits near in time raises the variance of a mean: 1 + 2·Σ of their correlations up to
 * the first that is none, and at least what the nearest alone says of a fading one, (1 + r)/(1 - r); each made up for
 * what a fit to so few takes off. White noise on top of gusts hides the nearest, not the sum.
 */
function varianceFactor(misfits: readonly Vector[], squares: number): number {
  const count = misfits.length;
  if (!(squares > 0)) return 1;
  let sum = 1;
  let nearest = 0;
  for (let lag = 1; lag <= Math.min(MOST_LAGS, count / 4); lag++) {
    let products = 0;
    for (let i = lag; i < count; i++) {
      const [a, b] = [misfits[i - lag] as Vector, misfits[i] as Vector];
      products += a.along * b.along + a.across * b.across;
    }
    const raw = products / squares;
    const likeness = Math.min(raw + (1 + 3 * Math.max(raw, 0)) / count, MOST_ALIKE);
    if (likeness <= 0) break;
    if (lag === 1) nearest = likeness;
    sum += 2 * likeness;
  }
  return Math.max(sum, (1 + nearest) / (1 - nearest));
}

function turnOf(windows: readonly WindowMean[]): number {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { headingDeg } of windows) {
    least = Math.min(least, headingDeg);
    most = Math.max(most, headingDeg);
  }
  return most - least;
}

const conjugate = ({ along, across }: Vector): Vector => ({ along, across: -across });
const plus = (a: Vector, b: Vector): Vector => ({ along: a.along + b.along, across: a.across + b.across });
const scaled = (a: Vector, by: number): Vector => ({ along: a.along * by, across: a.across * by });
const times = (a: Vector, b: Vector): Vector => ({
  along: a.along * b.along - a.across * b.across,
  across: a.along * b.across + a.across * b.along,
});
