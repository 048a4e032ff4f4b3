// Channels that seem to be in another unit or of the other sign, found by holding what the last seconds tell against each other.
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import { distanceFt } from './heightAbove.js';
import type { Doubt, ExerciseSetup, Moment } from './states.js';
import { inFeet, inKnots } from './words.js';

/** Seconds of flight looked at: at least, and from one leg's begin to its end. */
const OVER_S = 5;
const LEG_S = 0.9;
/** A ratio counts as a unit's when it is this near to it. */
const NEAR_SHARE = 0.12;
const VERTICAL_LEAST_FT = 60;
const MOVING_KT = 40;
/** Groundspeed and the way flown tell the same thing, so that a difference needs no wind to explain it. */
const GROUNDSPEED_OFF_KT = 25;
const TURN_LEAST_DEG = 12;
const TURN_LEG_DEG = 6;
const MOST_RADIANS = 1.6;
/** Nothing flies slower than this share of the stall speed with landing flap, nor climbs at this multiple of its climb and glide speeds. */
const TOO_SLOW = 0.9;
const TOO_FAST = 1.4;

const FPM_PER_MPS = 60 / M_PER_FT;
const FPM_PER_KT = (MPS_PER_KT * 60) / M_PER_FT;
const KT_PER_KMH = 1000 / 3600 / MPS_PER_KT;
const FPS_PER_KT = MPS_PER_KT / M_PER_FT;

interface Leg {
  readonly speedKt: number;
  readonly trackDeg: number;
  readonly headingDeg: number;
  /** Turn of the heading (degrees a second, right positive). */
  readonly turnDegS: number;
  readonly bankDeg: number;
}

/** What the moments kept tell against a channel. @param airborne The lift-off was seen and it has not touched since. */
export function unitDoubts(setup: ExerciseSetup, moments: readonly Moment[], airborne: boolean): Doubt[] {
  const first = moments[0];
  const last = moments.at(-1);
  if (first === undefined || last === undefined || last.timeS - first.timeS < OVER_S) return [];
  const legs = legsOf(moments);
  const wayKt = mean(legs.map(({ speedKt }) => speedKt));
  const found = [groundspeed(moments, wayKt), airborne ? airspeed(setup, moments, wayKt) : null];
  if (wayKt >= MOVING_KT) found.push(heading(legs));
  if (airborne) found.push(vertical(setup, first, last), wayKt >= MOVING_KT ? bank(legs) : null);
  return found.filter((doubt) => doubt !== null);
}

function vertical(setup: ExerciseSetup, first: Moment, last: Moment): Doubt | null {
  const roseFt = last.altitudeFt - first.altitudeFt;
  const climbedFt = last.climbedFt - first.climbedFt;
  const byHeight = setup.scenario.practice.from === 'runway';
  const heightRoseFt = byHeight ? last.heightFt - first.heightFt : roseFt;
  const figures = { roseFt, climbedFt, heightRoseFt, overS: last.timeS - first.timeS };
  const over = `in ${Math.round(figures.overS)} s`;
  if (Math.abs(roseFt) < VERTICAL_LEAST_FT && Math.abs(climbedFt) < VERTICAL_LEAST_FT) return null;
  const ratio = roseFt / climbedFt;
  if (near(ratio, M_PER_FT)) {
    const text = `Altitude rose by ${inFeet(roseFt)} ${over} where vertical speed tells ${inFeet(climbedFt)}: altitude seems to be in metres.`;
    return { name: 'altitude', text, next: look('altitude'), figures };
  }
  if (near(ratio, 1) && near(heightRoseFt / roseFt, M_PER_FT)) {
    const text = `Height rose by ${inFeet(heightRoseFt)} ${over} where altitude rose by ${inFeet(roseFt)}: height seems to be in metres.`;
    return { name: 'height', text, next: look('height'), figures };
  }
  const units = [
    ['is of the other sign', -1],
    ['seems to be in m/s', FPM_PER_MPS],
    ['seems to be in ft/s', 60],
    ['seems to be in knots', FPM_PER_KT],
  ] as const;
  const unit = units.find(([, factor]) => near(ratio, factor));
  if (unit === undefined) return null;
  const text = `Altitude changed by ${inFeet(roseFt)} ${over} where vertical speed tells ${inFeet(climbedFt)}: vertical speed ${unit[0]}.`;
  return { name: 'vertical-speed', text, next: look('vertical speed'), figures };
}

function groundspeed(moments: readonly Moment[], wayKt: number): Doubt | null {
  const told = moments.flatMap(({ groundspeedKt }) => (groundspeedKt === null ? [] : [groundspeedKt]));
  if (told.length < moments.length || wayKt < MOVING_KT) return null;
  const groundspeedKt = mean(told);
  if (Math.abs(groundspeedKt - wayKt) < GROUNDSPEED_OFF_KT) return null;
  const unit = speedUnit(groundspeedKt / wayKt);
  const seems = unit === null ? '.' : `: it seems to be in ${unit}.`;
  const text = `Groundspeed tells ${inKnots(groundspeedKt)} where the position moves at ${inKnots(wayKt)}${seems}`;
  return { name: 'groundspeed', text, next: look('groundspeed'), figures: { groundspeedKt, wayKt } };
}

/** Wind makes airspeed and the way flown differ, so the aeroplane's own speeds must rule the reading out besides. */
function airspeed({ aircraft }: ExerciseSetup, moments: readonly Moment[], wayKt: number): Doubt | null {
  const airspeedKt = mean(moments.map(({ indicatedAirspeedKt }) => indicatedAirspeedKt));
  const fastestKt = Math.max(aircraft.bestGlideKcas, ...aircraft.climb.map(({ kcas }) => kcas));
  const slow = airspeedKt < TOO_SLOW * aircraft.stallLandingKcas;
  const fast = airspeedKt > TOO_FAST * fastestKt;
  if (wayKt < MOVING_KT || !(slow || fast)) return null;
  const unit = speedUnit(airspeedKt / wayKt, 0.3);
  if (unit === null || (unit === 'm/s') !== slow) return null;
  const text = `Airspeed tells ${inKnots(airspeedKt)} in flight, where the position moves at ${inKnots(wayKt)}: it seems to be in ${unit}.`;
  return { name: 'airspeed', text, next: look('airspeed'), figures: { airspeedKt, wayKt } };
}

function heading(legs: readonly Leg[]): Doubt | null {
  const inRadians = legs.every(
    ({ headingDeg, trackDeg }) =>
      headingDeg <= 2 * Math.PI + 0.01 &&
      Math.abs(turn(headingDeg, trackDeg)) > 30 &&
      Math.abs(turn(headingDeg / RAD_PER_DEG, trackDeg)) < 20,
  );
  const last = legs.at(-1);
  if (!inRadians || last === undefined) return null;
  const { headingDeg, trackDeg } = last;
  const text = `Heading tells ${headingDeg.toFixed(1)}° where the track over the ground is ${Math.round(trackDeg)}°: heading seems to be in radians.`;
  return { name: 'heading', text, next: look('heading'), figures: { headingDeg, trackDeg } };
}

/** A steady turn needs the bank whose tangent is speed times rate of turn over gravity. */
function bank(legs: readonly Leg[]): Doubt | null {
  const needed = legs.map(({ speedKt, turnDegS }) => {
    const sideways = (speedKt * MPS_PER_KT * turnDegS * RAD_PER_DEG) / GRAVITY_MPS2;
    return Math.atan(sideways) / RAD_PER_DEG;
  });
  const neededDeg = mean(needed);
  const steady = needed.every((deg) => Math.sign(deg) === Math.sign(neededDeg) && Math.abs(deg) >= TURN_LEG_DEG);
  // The track must turn as the heading does: a nose that swings is no turn.
  const tracks = legs.slice(1).map(({ trackDeg }, index) => turn(legs[index]?.trackDeg ?? trackDeg, trackDeg));
  const turned = tracks.reduce((sum, deg) => sum + deg, 0);
  if (!steady || Math.abs(neededDeg) < TURN_LEAST_DEG || turned * neededDeg <= 0) return null;
  const bankDeg = mean(legs.map((leg) => leg.bankDeg));
  const figures = { bankDeg, neededDeg };
  const inTurn = `in a turn that needs ${degrees(neededDeg)}`;
  if (Math.abs(bankDeg) <= MOST_RADIANS && near(bankDeg / (neededDeg * RAD_PER_DEG), 1, 0.35)) {
    const text = `Bank tells ${degrees(bankDeg)} ${inTurn}: it seems to be in radians.`;
    return { name: 'bank', text, next: look('bank'), figures };
  }
  if (near(bankDeg / neededDeg, -1, 0.5)) {
    const text = `Bank tells ${degrees(bankDeg)} ${inTurn}: it seems to be of the other sign (right wing down is positive).`;
    return { name: 'bank', text, next: look('bank'), figures };
  }
  return null;
}

/** Stretches of about a second, so that rounded positions tell a speed. */
function legsOf(moments: readonly Moment[]): Leg[] {
  const legs: Leg[] = [];
  let from = moments[0];
  for (const to of moments) {
    if (from === undefined || to.timeS - from.timeS < LEG_S) continue;
    const forS = to.timeS - from.timeS;
    const northDeg = to.latitudeDeg - from.latitudeDeg;
    const eastDeg = turn(from.longitudeDeg, to.longitudeDeg) * Math.cos(to.latitudeDeg * RAD_PER_DEG);
    legs.push({
      speedKt: distanceFt(from, to) / forS / FPS_PER_KT,
      trackDeg: (Math.atan2(eastDeg, northDeg) / RAD_PER_DEG + 360) % 360,
      headingDeg: to.headingDeg,
      turnDegS: turn(from.headingDeg, to.headingDeg) / forS,
      bankDeg: (from.bankDeg + to.bankDeg) / 2,
    });
    from = to;
  }
  return legs;
}

function speedUnit(ratio: number, share = NEAR_SHARE): 'm/s' | 'km/h' | null {
  if (near(ratio, MPS_PER_KT, share)) return 'm/s';
  return near(ratio, 1 / KT_PER_KMH, share) ? 'km/h' : null;
}

function near(value: number, target: number, share = NEAR_SHARE): boolean {
  return Math.abs(value - target) <= share * Math.abs(target);
}

/** Shortest way from one angle to another (degrees, right positive). */
function turn(fromDeg: number, toDeg: number): number {
  return ((((toDeg - fromDeg + 180) % 360) + 360) % 360) - 180;
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function degrees(angleDeg: number): string {
  return `${angleDeg.toFixed(Math.abs(angleDeg) < 3 ? 1 : 0)}°`;
}

function look(channel: string): string {
  return `Check the ${channel}'s unit and sign in the link profile.`;
}
