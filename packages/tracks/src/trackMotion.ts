// What a track alone tells of the motion: ground velocity, vertical speed, and inferred from the turn, bank.
import { type PlacedRunway, toRunwayFrame } from '@stillprop/contracts';
import type { TrackPoint } from './trackLog.js';

const FT_S_PER_KT = 1852 / 3600 / 0.3048;
const DEG = 180 / Math.PI;
const G_FT_S2 = 9.80665 / 0.3048;
/** Slopes are taken over ±this: three points at one a second. */
const HALF_S = 1;

export interface Motion {
  readonly groundspeedKt: number;
  readonly trackDeg: number;
  readonly verticalSpeedFpm: number;
  /** From a level, coordinated turn at the groundspeed: tan(bank) = V·turn rate/g; wind is not allowed for. */
  readonly bankDeg: number;
  /** The flight path's angle. */
  readonly pathDeg: number;
}

/** The motion at every point, by differences to the points about it. */
export function motionOf(points: readonly TrackPoint[], runway: PlacedRunway): Motion[] {
  const places = points.map(({ latitudeDeg, longitudeDeg }) => toRunwayFrame(runway, latitudeDeg, longitudeDeg));
  const around = points.map((_, i) => neighbours(points, i));
  const velocities = around.map(({ from, to, dtS }) => {
    const [a, b] = [places[from], places[to]] as [(typeof places)[0], (typeof places)[0]];
    return { along: (b.alongFt - a.alongFt) / dtS, across: (b.acrossFt - a.acrossFt) / dtS };
  });
  return points.map((_, i) => {
    const { from, to, dtS } = around[i] as Around;
    const { along, across } = velocities[i] as (typeof velocities)[0];
    const [v0, v1] = [velocities[from], velocities[to]] as [(typeof velocities)[0], (typeof velocities)[0]];
    const speed = Math.hypot(along, across);
    const turned = Math.atan2(v0.along * v1.across - v0.across * v1.along, v0.along * v1.along + v0.across * v1.across);
    const climb = ((points[to] as TrackPoint).altitudeFt - (points[from] as TrackPoint).altitudeFt) / dtS;
    const trackDeg = (Math.atan2(across, along) * DEG + runway.headingTrueDeg + 720) % 360;
    return {
      groundspeedKt: speed / FT_S_PER_KT,
      trackDeg,
      verticalSpeedFpm: climb * 60,
      bankDeg: Math.atan((speed * (turned / dtS)) / G_FT_S2) * DEG,
      pathDeg: Math.atan2(climb, speed) * DEG,
    };
  });
}

interface Around {
  readonly from: number;
  readonly to: number;
  readonly dtS: number;
}

function neighbours(points: readonly TrackPoint[], i: number): Around {
  const timeS = (index: number) => (points[index] as TrackPoint).timeS;
  let from = Math.max(i - 1, 0);
  let to = Math.min(i + 1, points.length - 1);
  while (from > 0 && timeS(i) - timeS(from) < HALF_S) from--;
  while (to < points.length - 1 && timeS(to) - timeS(i) < HALF_S) to++;
  return { from, to, dtS: timeS(to) - timeS(from) };
}
