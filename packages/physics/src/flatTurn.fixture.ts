// The turn of a return as one flat loop: the formulas of the model written out by hand, to hold its speed and figures against.
import { DEAD_POWER } from './aeroplane.js';
import type { FlightModel } from './flight.js';
import type { Technique } from './pilotProgram.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { BANK, H, LIFT, POWER, VH, VX, VY, X, Y } from './state.js';
import { GRAVITY_MPS2 } from './units.js';

/**
 * Flies `steps` RK4 steps of the turn to an aim point in still air and leaves the end in `state`.
 * Everything is a local number; nothing is called but Math.
 */
export function flyFlatTurn(
  model: FlightModel,
  technique: Technique,
  aimM: number,
  side: 1 | -1,
  state: Float64Array,
  steps: number,
  dtS: number,
  density: { readonly surface: number; readonly lapsePerM: number; readonly exponentRest: number },
): void {
  const { plane } = model;
  const area = plane.wingAreaM2;
  const mass = plane.massKg;
  const weight = plane.weightN;
  const zeroLift = plane.dragZeroLift + model.propellerDrag + (model.gearDown ? plane.gearDrag : 0);
  const propeller = model.propellerDrag;
  const induced0 = plane.inducedFactor;
  const wingHeight = plane.wingHeightM;
  const span = plane.wingSpanM;
  const liftMax = plane.liftMaxClean;
  const margin = technique.stallMargin;
  const liftLimit = liftMax / (margin * margin);
  const rollLimit = technique.rollRateRadS;
  const target = technique.targetMps;
  const least = technique.minimumLoadFactor;
  const turnBank = technique.bankRad;
  const cosTurnBank = Math.cos(turnBank);
  const { thrust } = plane;
  if (thrust.kind !== 'linear')
    throw new RangeError(`the flat loop has the linear thrust law alone, got ${thrust.kind}`);
  const static0 = thrust.staticN;
  const slope = thrust.slopeNsPerM;
  const seaLevel = SEA_LEVEL_DENSITY_KG_M3;
  const gravity = GRAVITY_MPS2;
  const targetArea = 0.5 * SEA_LEVEL_DENSITY_KG_M3 * target * target * area;
  let x = state[X] as number;
  let y = state[Y] as number;
  let h = state[H] as number;
  let vx = state[VX] as number;
  let vy = state[VY] as number;
  let vh = state[VH] as number;
  let bank = state[BANK] as number;
  let lift = state[LIFT] as number;
  let power = state[POWER] as number;
  for (let step = 0; step < steps; step++) {
    let sx = 0;
    let sy = 0;
    let sh = 0;
    let svx = 0;
    let svy = 0;
    let svh = 0;
    let sBank = 0;
    let sLift = 0;
    let sPower = 0;
    let px = x;
    let py = y;
    let ph = h;
    let pvx = vx;
    let pvy = vy;
    let pvh = vh;
    let pBank = bank;
    let pLift = lift;
    let pPower = power;
    for (let stage = 0; stage < 4; stage++) {
      const horizontal = Math.max(Math.sqrt(pvx * pvx + pvy * pvy), 1e-6);
      const tas = Math.sqrt(horizontal * horizontal + pvh * pvh);
      const u = density.lapsePerM * ph;
      const one = 1 + u;
      const square = one * one;
      const log = u * (1 - u * (0.5 - u * (1 / 3 - u * 0.25)));
      const rho = density.surface * square * square * Math.sqrt(Math.sqrt(one)) * (1 + density.exponentRest * log);
      const pressureArea = 0.5 * rho * tas * tas * area;
      const ratio = (16 * (Math.max(ph, 0) + wingHeight)) / span;
      const ratio2 = ratio * ratio;
      const induced = (induced0 * ratio2) / (1 + ratio2);
      const zeroLiftNow = zeroLift - propeller * pPower;
      const excess = pLift - liftMax;
      let liftNow = pLift;
      let drag = zeroLiftNow;
      if (excess > 0) {
        liftNow = Math.max(liftMax - 1.2 * excess, 0.55 * liftMax);
        drag += 0.6 * excess;
      }
      const dragN = pressureArea * (drag + induced * liftNow * liftNow);
      const sigma = rho / seaLevel;
      const thrustN = pPower > DEAD_POWER ? pPower * Math.max((static0 + slope * tas) * sigma, 0) : 0;
      const cosBank = Math.cos(pBank);
      // Steady path at the target speed.
      const sinPath = pvh / tas;
      const cosPath = horizontal / tas;
      const targetTas = target * Math.sqrt(seaLevel / rho);
      const targetThrustN = pPower > DEAD_POWER ? pPower * Math.max((static0 + slope * targetTas) * sigma, 0) : 0;
      const bankCos = Math.max(cosBank, 0.1);
      const steadyLift = weight / (targetArea * bankCos);
      const along = (targetThrustN - targetArea * zeroLiftNow) / weight;
      const inducedShare = (targetArea * induced * steadyLift * steadyLift) / weight;
      const level = along - inducedShare;
      const sin0 = (2 * level) / (1 + Math.sqrt(Math.max(1 - 4 * inducedShare * level, 0)));
      const sin = sin0 < -0.9 ? -0.9 : Math.min(sin0, 0.9);
      const wanted0 = Math.asin(sin) - (1.2 * (targetTas - tas)) / targetTas;
      const wanted = wanted0 < -0.6108652381980153 ? -0.6108652381980153 : Math.min(wanted0, 0.17453292519943295);
      const pathRate = 0.9 * (wanted - Math.asin(sinPath));
      const load = (cosPath + (tas * pathRate) / gravity) / bankCos;
      const liftCommand = Math.min((Math.max(load, least) * weight) / pressureArea, liftLimit);
      // Bank towards the aim point.
      const most = (pressureArea * liftMax) / weight;
      const square2 = margin * margin;
      const within = most * cosTurnBank >= square2 ? turnBank : most <= square2 ? 0 : Math.acos(square2 / most);
      const levelled = Math.min(0.08726646259971647, within);
      const limit = ph >= 20 ? within : ph <= 7 ? levelled : levelled + ((within - levelled) * (ph - 7)) / 13;
      const ahead = aimM - px;
      const angle = side * Math.atan2(-pvx * py - pvy * ahead, pvx * ahead - pvy * py);
      const toGo = angle < -0.5 ? angle + 2 * Math.PI : angle;
      const asked = Math.atan((Math.sqrt(pvx * pvx + pvy * pvy) * toGo) / gravity);
      const bankCommand = side * (asked < -limit ? -limit : Math.min(asked, limit));
      // Accelerations.
      const liftMps2 = (pressureArea * liftNow) / mass;
      const vertical = liftMps2 * cosBank;
      const alongAir = (thrustN - dragN) / (mass * tas);
      const tilt = (vertical * sinPath) / horizontal;
      const right = (liftMps2 * Math.sin(pBank)) / horizontal;
      const ax = alongAir * pvx - tilt * pvx - right * pvy;
      const ay = alongAir * pvy - tilt * pvy + right * pvx;
      const ah = alongAir * pvh + vertical * cosPath - gravity;
      const roll0 = (bankCommand - pBank) / 0.3;
      const followed = roll0 > rollLimit ? rollLimit : Math.max(roll0, -rollLimit);
      const roll = excess > 0 ? followed + 2.5 * excess * (pBank > 0.02 ? 1 : -1) : followed;
      const dLift = (liftCommand - pLift) / 0.4;
      const dPower = -pPower / 0.5;
      const weightOfStage = stage === 0 || stage === 3 ? 1 : 2;
      sx += weightOfStage * pvx;
      sy += weightOfStage * pvy;
      sh += weightOfStage * pvh;
      svx += weightOfStage * ax;
      svy += weightOfStage * ay;
      svh += weightOfStage * ah;
      sBank += weightOfStage * roll;
      sLift += weightOfStage * dLift;
      sPower += weightOfStage * dPower;
      if (stage === 3) break;
      const aheadS = stage === 2 ? dtS : dtS / 2;
      px = x + aheadS * pvx;
      py = y + aheadS * pvy;
      ph = h + aheadS * pvh;
      pvx = vx + aheadS * ax;
      pvy = vy + aheadS * ay;
      pvh = vh + aheadS * ah;
      pBank = bank + aheadS * roll;
      pLift = lift + aheadS * dLift;
      pPower = power + aheadS * dPower;
    }
    const sixth = dtS / 6;
    x += sixth * sx;
    y += sixth * sy;
    h += sixth * sh;
    vx += sixth * svx;
    vy += sixth * svy;
    vh += sixth * svh;
    bank += sixth * sBank;
    lift += sixth * sLift;
    power += sixth * sPower;
  }
  state[X] = x;
  state[Y] = y;
  state[H] = h;
  state[VX] = vx;
  state[VY] = vy;
  state[VH] = vh;
  state[BANK] = bank;
  state[LIFT] = lift;
  state[POWER] = power;
}
