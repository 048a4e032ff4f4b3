// The ground within reach after a failure: every heading turned to, wings level, then a straight glide down, in today's wind.
import { checkAttemptInputs } from './checkRequest.js';
import { HeadingFlight } from './headingTurn.js';
import { areaFt2, type Point } from './polygon.js';
import type { FlightStart, FlyRequest } from './request.js';
import { buildScene, type Scene } from './scene.js';
import { H, X, Y } from './state.js';
import { M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

const STEP_S = 0.2;
const TIME_LIMIT_S = 1_800;
/** Largest heading change flown (deg): more only leads back to ground that less has reached. */
const LARGEST_TURN_DEG = 270;
/** Lowest height at which the wings may come level (ft); common practice, no source. */
const LEVEL_BY_FT = 100;

/** One glide of the outline. */
export interface Reach extends Point {
  /** Heading turned through first, right positive (deg). */
  readonly turnDeg: number;
  readonly timeS: number;
}

export interface Footprint {
  /** Outline of the ground within reach, in the runway frame (ft), in the order of its bearings. */
  readonly polygon: readonly Point[];
  readonly areaFt2: number;
  /** Where the glide of each heading ends, left turns to right turns. */
  readonly reaches: readonly Reach[];
  /** Over the ground at the failure. */
  readonly failure: Point & { readonly heightFt: number };
  /** Speed of the straight glide (kt CAS). */
  readonly glideKcas: number;
  /** Largest turn either way that still leaves the wings level by 100 ft (deg). */
  readonly largestTurnDeg: { readonly left: number; readonly right: number };
}

/**
 * Ground that can be reached: for heading changes to both sides the turn of the technique is flown (delay, push and
 * roll in it), then a straight glide at `technique.straightKcas`, or at best glide for the mass, to the ground; gear and
 * flap stay as at the failure and ground effect is left out. Where the wings would not be level by 100 ft the heading
 * counts as out of reach. The outline is the farthest such ground at each bearing from the middle of them.
 *
 * What lies well inside the outline can be reached by a longer way; close to the failure, and below it, height may be
 * left over that a circle has to lose.
 *
 * @param options.directions Glides to each side, 6 to 360; 36 when absent.
 * @param options.start Start from this moment instead of the modelled climb.
 * @throws {RangeError} As `flyAttempt`; or if `directions` is out of range.
 */
export function footprint(
  request: FlyRequest,
  options: { readonly start?: FlightStart | undefined; readonly directions?: number | undefined } = {},
): Footprint {
  checkAttemptInputs(request, options.start);
  const directions = options.directions ?? 36;
  if (!(Number.isInteger(directions) && directions >= 6 && directions <= 360))
    throw new RangeError(`directions must be a whole number from 6 to 360, got ${directions}`);
  const scene = buildScene(request, options.start);
  const { straightKcas } = request.technique;
  const glideMps = straightKcas === undefined ? scene.plane.bestGlideMps : straightKcas * MPS_PER_KT;
  const sideReaches = (side: 1 | -1) => {
    const reached: Reach[] = [];
    for (let i = 1; i <= directions; i++) {
      const reach = glideAfterTurn(scene, side, (i * LARGEST_TURN_DEG) / directions, glideMps);
      if (reach === null) break;
      reached.push(reach);
    }
    return reached;
  };
  const ahead = glideAfterTurn(scene, 1, 0, glideMps) ?? endOfFlight(scene, glideMps);
  const left = sideReaches(-1);
  const right = sideReaches(1);
  const reaches = [...left.reverse(), ahead, ...right];
  const polygon = outline(reaches, 2 * directions);
  return {
    polygon,
    areaFt2: areaFt2(polygon),
    reaches,
    failure: {
      alongFt: (scene.start[X] as number) / M_PER_FT,
      acrossFt: (scene.start[Y] as number) / M_PER_FT,
      heightFt: (scene.start[H] as number) / M_PER_FT,
    },
    glideKcas: glideMps / MPS_PER_KT,
    largestTurnDeg: { left: Math.max(0, ...left.map(({ turnDeg }) => -turnDeg)), right: right.at(-1)?.turnDeg ?? 0 },
  };
}

/** End of a turn and the glide after it; null when the wings are not level in time. */
function glideAfterTurn(scene: Scene, side: 1 | -1, turnDeg: number, glideMps: number): Reach | null {
  const flight = new HeadingFlight(scene, side, turnDeg * RAD_PER_DEG);
  const least = turnDeg === 0 ? 0 : LEVEL_BY_FT * M_PER_FT;
  while (!flight.level && flight.timeS < TIME_LIMIT_S) {
    flight.step(STEP_S);
    if (flight.heightM < least) return null;
  }
  flight.targetMps = glideMps;
  return glideDown(flight, side * turnDeg);
}

/** A failure so low that it is on the ground before the wings are level: straight on to there. */
function endOfFlight(scene: Scene, glideMps: number): Reach {
  const flight = new HeadingFlight(scene, 1, 0);
  flight.targetMps = glideMps;
  return glideDown(flight, 0);
}

function glideDown(flight: HeadingFlight, turnDeg: number): Reach {
  while (flight.heightM > 0 && flight.timeS < TIME_LIMIT_S) flight.step(STEP_S);
  const { before, state } = flight;
  const from = before[H] as number;
  const share = flight.heightM < 0 && from > flight.heightM ? from / (from - flight.heightM) : 1;
  const at = (index: number) =>
    ((before[index] as number) + share * ((state[index] as number) - (before[index] as number))) / M_PER_FT;
  return { turnDeg, alongFt: at(X), acrossFt: at(Y), timeS: flight.timeS - (1 - share) * flight.lastStepS };
}

/** Farthest crossing of each bearing from the middle with the line through the reaches, the line closed by itself. */
function outline(reaches: readonly Reach[], bearings: number): Point[] {
  const count = reaches.length;
  if (count < 3) return reaches.map(({ alongFt, acrossFt }) => ({ alongFt, acrossFt }));
  const middle = {
    alongFt: reaches.reduce((sum, { alongFt }) => sum + alongFt, 0) / count,
    acrossFt: reaches.reduce((sum, { acrossFt }) => sum + acrossFt, 0) / count,
  };
  const points: Point[] = [];
  for (let i = 0; i < bearings; i++) {
    const bearing = (2 * Math.PI * i) / bearings;
    const [dx, dy] = [Math.cos(bearing), Math.sin(bearing)];
    let farthest = 0;
    for (let k = 0; k < count; k++) {
      const a = reaches[k] as Reach;
      const b = reaches[(k + 1) % count] as Reach;
      const [ax, ay] = [a.alongFt - middle.alongFt, a.acrossFt - middle.acrossFt];
      const [ex, ey] = [b.alongFt - a.alongFt, b.acrossFt - a.acrossFt];
      const cross = dx * ey - dy * ex;
      if (cross === 0) continue;
      const share = (ax * dy - ay * dx) / cross;
      const distance = (ax * ey - ay * ex) / cross;
      if (share >= 0 && share <= 1 && distance > farthest) farthest = distance;
    }
    if (farthest > 0)
      points.push({ alongFt: middle.alongFt + farthest * dx, acrossFt: middle.acrossFt + farthest * dy });
  }
  return points;
}
