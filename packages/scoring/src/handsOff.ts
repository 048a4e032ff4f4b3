// How far the nose has left the attitude it would have taken with nobody touching the stick.
import { GRAVITY_MPS2, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import { PATH_RATE_HALF_S, pathAngleDeg } from './derivedColumns.js';
import { type Flight, meanAround } from './flight.js';

/** State at the start is a mean over the second before it. */
const BEFORE_HALF_S = 0.5;
const LEAST_TAS_KT = 20;
/** An estimated load factor looks ahead; besides, the moment of the loss is found to within this. */
const ESTIMATE_ENDS_S = PATH_RATE_HALF_S + 0.1;

/**
 * Pitch less hands-off pitch (deg, nose up positive) from a moment on; 0 at that moment, and level before it.
 *
 * An aeroplane left alone keeps the angle at which its wing meets the air, so its lift goes with the square of the
 * indicated airspeed and the path bends by γ̇ = g/V·(n0·(V/V0)²·cosφ - cosγ); the nose goes with the path. After a loss
 * of power in the climb it thus falls by itself, by 4 degrees/s and more. That rate, from the speed, bank and path
 * recorded, is integrated and taken off; what is left is the pilot's doing. A load factor that is estimated from the path
 * is read where no vertical speed from the moment on has gone into it: a step of that channel is no change of n0.
 *
 * @see Lanchester's phugoid at constant angle of attack; Anderson, Introduction to Flight, for the equations of motion.
 */
export function pitchBeyondHandsOff(flight: Flight, fromS: number): Float64Array {
  const { timeS, count, pitchDeg, iasKt, tasKt, bankDeg, verticalSpeedFpm, loadFactor } = flight;
  const result = new Float64Array(count);
  const before = (column: Float64Array, endsS = fromS) =>
    meanAround(flight, column, endsS - BEFORE_HALF_S, BEFORE_HALF_S);
  const startIasKt = Math.max(before(iasKt), LEAST_TAS_KT);
  const startLoad = before(loadFactor, flight.loadFactorFrom === 'estimated' ? fromS - ESTIMATE_ENDS_S : fromS);
  const startPitchDeg = before(pitchDeg);
  const rateDegS = (i: number) => {
    const tas = Math.max(tasKt[i] as number, LEAST_TAS_KT);
    const pathRad = pathAngleDeg(verticalSpeedFpm[i] as number, tas) * RAD_PER_DEG;
    const load = startLoad * ((iasKt[i] as number) / startIasKt) ** 2;
    const upwards = load * Math.cos((bankDeg[i] as number) * RAD_PER_DEG);
    return ((GRAVITY_MPS2 / (tas * MPS_PER_KT)) * (upwards - Math.cos(pathRad))) / RAD_PER_DEG;
  };
  let handsOffDeg = 0;
  for (let i = 0; i < count; i++) {
    const atS = timeS[i] as number;
    if (atS > fromS && i > 0) {
      const stepS = atS - Math.max(timeS[i - 1] as number, fromS);
      handsOffDeg += ((rateDegS(i - 1) + rateDegS(i)) / 2) * stepS;
    }
    result[i] = (pitchDeg[i] as number) - startPitchDeg - handsOffDeg;
  }
  return result;
}
