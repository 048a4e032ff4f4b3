// What was derived from an aeroplane's handbook numbers, figure by figure: value, unit, and the numbers it came from.
import { type Aeroplane, deriveAeroplane, derivedFigures, fullThrustN, type ThrustLaw } from './aeroplane.js';
import { checkAircraft } from './checkRequest.js';
import type { HandbookWarning } from './handbookWarnings.js';
import type { AircraftNumbers, PropellerState } from './request.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from './units.js';

const TURN_BANKS_DEG = [30, 45, 60] as const;
const PROPELLERS = ['coarse', 'stopped', 'windmillingFine'] as const;

/** One derived figure. */
export interface AircraftFigure {
  /** Its name for programs. */
  readonly key: string;
  /** Its name for people. */
  readonly name: string;
  readonly value: number;
  /** '' for a plain number. */
  readonly unit: '' | 'kt' | 'ft/min' | '°' | 'N' | 'N per m/s' | 'kW';
  /** The handbook numbers it came from, as `aircraft.<field>` without `aircraft.`. */
  readonly from: readonly string[];
}

export interface AircraftReport {
  readonly figures: readonly AircraftFigure[];
  /** Where numbers contradict each other, or what an aeroplane can be; empty when nothing was found. */
  readonly warnings: readonly HandbookWarning[];
}

/**
 * Everything the model takes from the handbook numbers, and what follows at once from it: speeds calibrated at the mass
 * flown; sinks and angles at sea level in the standard atmosphere, gear and flap up. How each figure is derived stands
 * with `deriveAeroplane`; stall speeds in a level turn are V·√(1/cosφ).
 *
 * `climbToGlide` compares the climb angle at the speed of a climb point with the glide angle at best glide (handbook
 * propeller), both at the mass flown and in still air: at 1 or below, each foot climbed leads farther away than it can
 * glide back.
 *
 * @throws {RangeError} If a number is impossible; the message names field, value and allowed range.
 */
export function aircraftReport(aircraft: AircraftNumbers): AircraftReport {
  checkAircraft(aircraft);
  const { warnings, ...found } = derivedFigures(aircraft);
  const mass = ['massKg', ...(aircraft.referenceMassKg === undefined ? [] : ['referenceMassKg'])];
  /** The mass that the handbook's speeds belong to. */
  const handbookMass = aircraft.referenceMassKg === undefined ? 'massKg' : 'referenceMassKg';
  const polar = ['bestGlideKcas', 'bestGlideRatio', handbookMass, 'wingAreaM2'];
  const glideRad = Math.atan(1 / aircraft.bestGlideRatio);
  const figures: AircraftFigure[] = [];
  const add = (key: string, name: string, value: number, unit: AircraftFigure['unit'], from: readonly string[]) =>
    figures.push({ key, name, value, unit, from });
  add('stallClean', 'Stall, flap up', found.stallCleanKcas, 'kt', ['stallCleanKcas', ...mass]);
  for (const bankDeg of TURN_BANKS_DEG) {
    const kcas = found.stallCleanKcas / Math.sqrt(Math.cos(bankDeg * RAD_PER_DEG));
    add(`stallAt${bankDeg}Deg`, `Stall, flap up, level turn at ${bankDeg}°`, kcas, 'kt', ['stallCleanKcas', ...mass]);
  }
  add('stallLanding', 'Stall, landing flap', found.stallLandingKcas, 'kt', ['stallLandingKcas', ...mass]);
  add('liftMaxClean', 'Largest lift coefficient, flap up', found.liftMaxClean, '', [
    'stallCleanKcas',
    handbookMass,
    'wingAreaM2',
  ]);
  add('liftMaxLanding', 'Largest lift coefficient, landing flap', found.liftMaxLanding, '', [
    'stallLandingKcas',
    handbookMass,
    'wingAreaM2',
  ]);
  add('bestGlide', 'Best glide', found.bestGlideKcas, 'kt', ['bestGlideKcas', ...mass]);
  add('bestGlideSink', 'Sink at best glide', found.bestGlideSinkFpm, 'ft/min', [
    'bestGlideKcas',
    'bestGlideRatio',
    ...mass,
  ]);
  add('bestGlideAngle', 'Glide angle at best glide', glideRad / RAD_PER_DEG, '°', ['bestGlideRatio']);
  add('leastSinkSpeed', 'Speed of least sink', found.leastSinkKcas, 'kt', ['bestGlideKcas', ...mass]);
  add('leastSink', 'Least sink', leastSinkFpm(found.leastSinkKcas, aircraft.bestGlideRatio), 'ft/min', [
    'bestGlideKcas',
    'bestGlideRatio',
    ...mass,
  ]);
  for (const state of PROPELLERS) {
    const added = found.propellerDrag[state];
    if (added === undefined || state === aircraft.bestGlidePropeller) continue;
    const [ratio, name] = [ratioWith(found, added), PROPELLER_NAMES[state]];
    add(`glideRatio.${state}`, `Best glide ratio, propeller ${name}`, ratio, '', [
      'bestGlideRatio',
      'propellerSinkFactor',
      'bestGlidePropeller',
    ]);
  }
  add('dragZeroLift', 'Zero-lift drag coefficient', found.dragZeroLift, '', polar);
  add('inducedFactor', 'Induced drag factor K', found.inducedFactor, '', polar);
  add('aspectRatio', 'Aspect ratio', found.aspectRatio, '', ['wingSpanM', 'wingAreaM2']);
  add('oswaldEfficiency', 'Oswald efficiency', found.oswaldEfficiency, '', [...polar, 'wingSpanM']);
  thrustFigures(found.thrust, add, ['climb', ...polar]);
  const plane = deriveAeroplane(aircraft);
  const climbFrom = ['climb', ...new Set([...polar, ...mass])];
  for (const [index, { kcas }] of aircraft.climb.entries()) {
    const climbRad = climbAngleRad(plane, kcas * MPS_PER_KT);
    add(`climbAngle.${index}`, `Climb angle at ${kcas} kt`, climbRad / RAD_PER_DEG, '°', climbFrom);
    add(`climbToGlide.${index}`, `Climb angle over glide angle at ${kcas} kt`, climbRad / glideRad, '', climbFrom);
  }
  return { figures, warnings };
}

/** Angle of a steady climb at full power, sea level, ISA, gear and flap up: sin γ = (T - D)/W, lift W·cos γ; negative: it sinks. */
function climbAngleRad(plane: Aeroplane, tasMps: number): number {
  const pressureAreaN = 0.5 * SEA_LEVEL_DENSITY_KG_M3 * tasMps * tasMps * plane.wingAreaM2;
  const thrustN = fullThrustN(plane.thrust, tasMps, SEA_LEVEL_DENSITY_KG_M3);
  const parasiteN = pressureAreaN * plane.dragZeroLift;
  // D = P + B·(1 - sin²γ) makes it a quadratic in sin γ; the root that goes to (T - D)/W when B is small.
  const inducedN = (plane.inducedFactor * plane.weightN ** 2) / pressureAreaN;
  const spareN = thrustN - parasiteN - inducedN;
  const root = Math.sqrt(Math.max(plane.weightN ** 2 - 4 * inducedN * spareN, 0));
  return Math.asin(Math.max(-1, Math.min(1, (2 * spareN) / (plane.weightN + root))));
}

const PROPELLER_NAMES: Record<PropellerState, string> = {
  coarse: 'coarse',
  stopped: 'stopped',
  windmillingFine: 'windmilling, fine pitch',
};

/** At least sink CL is √3 of that at best glide and CD twice: the glide ratio there is √3/2 of the best (Anderson). */
function leastSinkFpm(leastSinkKcas: number, bestGlideRatio: number): number {
  const sinkMps = leastSinkKcas * MPS_PER_KT * Math.sin(Math.atan(2 / (Math.sqrt(3) * bestGlideRatio)));
  return sinkMps / MPS_PER_FPM;
}

/** Best ratio of the polar with so much drag added: 1/(2·√(CD0·K)) (Anderson). */
function ratioWith(polar: { readonly dragZeroLift: number; readonly inducedFactor: number }, added: number): number {
  return 1 / (2 * Math.sqrt((polar.dragZeroLift + added) * polar.inducedFactor));
}

function thrustFigures(
  thrust: ThrustLaw,
  add: (key: string, name: string, value: number, unit: AircraftFigure['unit'], from: readonly string[]) => void,
  from: readonly string[],
): void {
  if (thrust.kind === 'power') {
    add('thrustPower', 'Thrust power, constant', thrust.powerW / 1000, 'kW', from);
    return;
  }
  add('thrustStatic', 'Thrust line, standing', thrust.staticN, 'N', from);
  add('thrustSlope', 'Thrust line, change with speed', thrust.slopeNsPerM, 'N per m/s', from);
}
