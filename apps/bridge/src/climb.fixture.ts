// A take-off and a steady climb, sample by sample, for benches: plausible throughout, so that each one is recorded.
import type { Sample } from '@stillprop/contracts';
import { demoBundle } from './testing.fixture.js';

const ROLL_S = 5;
const SPEED_KT = 80;
const CLIMB_FPM = 300; // so slow that minutes pass below the highest height of the failure
const FT_PER_S_PER_KT = 1852 / 0.3048 / 3600;
const FT_PER_DEG = 60 * (1852 / 0.3048); // one minute of latitude is a nautical mile, near enough here
const { runway } = demoBundle();
const start = runway.start ?? { latitudeDeg: 0, longitudeDeg: 0 };

export function climbSample(timeS: number): Sample {
  const flownS = Math.max(0, timeS - ROLL_S);
  const speedKt = Math.min(SPEED_KT, (SPEED_KT * timeS) / ROLL_S);
  const alongFt = FT_PER_S_PER_KT * (SPEED_KT * flownS + (speedKt * Math.min(timeS, ROLL_S)) / 2);
  const heightFt = (CLIMB_FPM / 60) * flownS;
  return {
    timeS,
    latitudeDeg: start.latitudeDeg + alongFt / FT_PER_DEG,
    longitudeDeg: start.longitudeDeg,
    altitudeFt: runway.elevationFt + heightFt,
    heightFt,
    indicatedAirspeedKt: speedKt,
    groundspeedKt: speedKt,
    trackDeg: 0,
    headingDeg: 0,
    bankDeg: 0,
    pitchDeg: 5,
    verticalSpeedFpm: flownS > 0 ? CLIMB_FPM : 0,
    powerFraction: 1,
    onGround: flownS === 0,
  };
}
