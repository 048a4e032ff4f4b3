// Channels that a simulator does not send, calculated from those that it does. Recordings name them as derived.
import { CHANNEL_BOUNDS, type Derivation, type LinkProfile, type LinkWind } from '@stillprop/contracts';
import {
  compassDeg,
  M_PER_FT,
  MPS_PER_KT,
  RAD_PER_DEG,
  SEA_LEVEL_DENSITY_KG_M3,
  standardAir,
} from '@stillprop/physics';
import type { DecodeFault } from './decode.js';
import type { SamplePart } from './partFromRow.js';
import { Slope } from './slope.js';

/** What a link does not tell, and its user knows. */
export interface Circumstances {
  /**
   * Wind of the scenario at the runway, for derivations that name none of their own; absent: unknown. It is read anew for
   * each message, so that it may change while a link is open.
   */
  readonly wind?: LinkWind | null;
}

/** Below this groundspeed a direction is noise, and the last one before it is held: an aeroplane that stands points there. */
const STANDSTILL_KT = 5;
/** Below this the ground moves by so little that its direction does not matter. */
const NO_MOTION_KT = 1.5;
const FPM_PER_FPS = 60;
const WGS84_A_M = 6_378_137; // semi-major axis, exact by definition
const WGS84_E2 = 0.006_694_379_990_14; // first eccentricity squared (NGA.STND.0036, table 3.5)

type Calculation = (part: SamplePart, timeS: number) => number | null;

/**
 * Adds the derived channels of a profile to a part, in the order of its list; one that cannot be calculated (yet) stays
 * missing, one beyond its bounds is named in `faults`. null: the profile derives nothing.
 *
 * Slopes lag by half of their window (`Slope`). Track and heading are held at standstill, and missing before the
 * aeroplane first moved; wind triangles hold in flight, not while wheels hold the aeroplane on its line.
 */
export function createDeriver(
  { derived = [] }: LinkProfile,
  circumstances: Circumstances,
): ((part: SamplePart, arrivalTimeS: number, faults: DecodeFault[]) => void) | null {
  if (derived.length === 0) return null;
  const calculations = derived.map((derivation) => ({
    channel: derivation.channel,
    bounds: CHANNEL_BOUNDS[derivation.channel],
    calculate: calculation(derivation, circumstances),
  }));
  return (part, arrivalTimeS, faults) => {
    const timeS = part.timeS ?? arrivalTimeS;
    if (!Number.isFinite(timeS)) return;
    for (const { channel, bounds, calculate } of calculations) {
      const value = calculate(part, timeS);
      if (value === null) continue;
      if (value >= bounds[0] && value <= bounds[1]) part[channel] = value;
      else faults.push({ code: 'out-of-range', channel });
    }
  };
}

function calculation(derivation: Derivation, circumstances: Circumstances): Calculation {
  switch (derivation.channel) {
    case 'verticalSpeedFpm':
      return verticalSpeed(derivation.windowS);
    case 'trackDeg':
      return held(overGround(derivation.windowS), (motion) => motion.trackDeg);
    case 'groundspeedKt': {
      const motionOf = overGround(derivation.windowS);
      return (part, timeS) => motionOf(part, timeS)?.speedKt ?? null;
    }
    case 'headingDeg':
      return held(
        throughAir(() => derivation.wind ?? circumstances.wind),
        (motion) => motion.headingDeg,
      );
    case 'trueAirspeedKt': {
      const motionOf = throughAir(() => derivation.wind ?? circumstances.wind);
      return (part) => motionOf(part)?.airspeedKt ?? null;
    }
    case 'indicatedAirspeedKt': {
      const motionOf = throughAir(() => derivation.wind ?? circumstances.wind);
      return (part) => indicated(motionOf(part)?.airspeedKt, part.altitudeFt);
    }
    case 'heightFt':
      return ({ altitudeFt }) => (altitudeFt === undefined ? null : altitudeFt - derivation.elevationFt);
  }
}

function verticalSpeed(windowS: number): Calculation {
  const slope = new Slope(windowS);
  return ({ altitudeFt }, timeS) => {
    if (altitudeFt === undefined || !slope.add(timeS, [altitudeFt])) return null;
    const rate = slope.perSecond?.[0];
    return rate === undefined ? null : rate * FPM_PER_FPS;
  };
}

interface Motion {
  readonly speedKt: number;
  readonly trackDeg: number;
}

/** Speed and direction over the ellipsoid's surface, from the slope of latitude and longitude. */
function overGround(windowS: number): (part: SamplePart, timeS: number) => Motion | null {
  const slope = new Slope(windowS);
  return ({ latitudeDeg, longitudeDeg }, timeS) => {
    if (latitudeDeg === undefined || longitudeDeg === undefined) return null;
    const before = slope.newest?.[1] ?? longitudeDeg;
    // Past 180° the count goes on, so that the slope stays one.
    const unwrapped = before + ((((longitudeDeg - before + 180) % 360) + 360) % 360) - 180;
    if (!slope.add(timeS, [latitudeDeg, unwrapped])) return null;
    const rates = slope.perSecond;
    if (rates === null) return null;
    const latitudeRad = latitudeDeg * RAD_PER_DEG;
    const flattening = 1 - WGS84_E2 * Math.sin(latitudeRad) ** 2;
    const meridianM = (WGS84_A_M * (1 - WGS84_E2)) / flattening ** 1.5;
    const northMps = (rates[0] ?? 0) * RAD_PER_DEG * meridianM;
    const eastMps = (rates[1] ?? 0) * RAD_PER_DEG * (WGS84_A_M / Math.sqrt(flattening)) * Math.cos(latitudeRad);
    return { speedKt: Math.hypot(northMps, eastMps) / MPS_PER_KT, trackDeg: compassDeg(Math.atan2(eastMps, northMps)) };
  };
}

interface AirMotion {
  readonly speedKt: number;
  readonly airspeedKt: number;
  readonly headingDeg: number;
}

/** The triangle of wind; null: a side of it is unknown. */
function throughAir(windNow: () => LinkWind | null | undefined): (part: SamplePart) => AirMotion | null {
  return ({ groundspeedKt: speedKt, trackDeg, verticalSpeedFpm = 0 }) => {
    const wind = windNow();
    if (wind === undefined || wind === null || speedKt === undefined) return null;
    // Some senders give no direction at standstill, where it makes no difference.
    if (trackDeg === undefined && speedKt >= NO_MOTION_KT) return null;
    const trackRad = (trackDeg ?? 0) * RAD_PER_DEG;
    const fromRad = wind.fromTrueDeg * RAD_PER_DEG;
    const northKt = speedKt * Math.cos(trackRad) + wind.speedKt * Math.cos(fromRad);
    const eastKt = speedKt * Math.sin(trackRad) + wind.speedKt * Math.sin(fromRad);
    // Down a glide path the airspeed is more than its part over the ground.
    const climbKt = (verticalSpeedFpm * M_PER_FT) / 60 / MPS_PER_KT;
    return {
      speedKt,
      airspeedKt: Math.hypot(northKt, eastKt, climbKt),
      headingDeg: compassDeg(Math.atan2(eastKt, northKt)),
    };
  };
}

/** A direction that is held while the aeroplane stands. */
function held<M extends { readonly speedKt: number }>(
  motionOf: (part: SamplePart, timeS: number) => M | null,
  direction: (motion: M) => number,
): Calculation {
  let last: number | null = null;
  return (part, timeS) => {
    const motion = motionOf(part, timeS);
    if (motion === null) return null;
    if (motion.speedKt >= STANDSTILL_KT) last = direction(motion);
    return last;
  };
}

/** Of true airspeed in standard air, without compressibility and instrument error; null where that air is not known. */
function indicated(trueKt: number | undefined, altitudeFt: number | undefined): number | null {
  if (trueKt === undefined || altitudeFt === undefined) return null;
  const heightM = altitudeFt * M_PER_FT;
  if (!(heightM >= -500 && heightM <= 11_000)) return null;
  return trueKt * Math.sqrt(standardAir(heightM).densityKgM3 / SEA_LEVEL_DENSITY_KG_M3);
}
