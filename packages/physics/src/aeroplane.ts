// From handbook numbers to the coefficients the equations of motion need.
import { type HandbookWarning, handbookWarnings } from './handbookWarnings.js';
import type { AircraftNumbers, PropellerState } from './request.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { GRAVITY_MPS2, MPS_PER_FPM, MPS_PER_KT } from './units.js';

// Gagg and Ferrar (SAE, 1934), as quoted by Gudmundsson, General Aviation Aircraft Design, eq. 7-16.
const GAGG_FERRAR = 7.55;
/**
 * Height of the wing above the wheels in spans: with the wheels on the ground a wing still has air below it, or its
 * induced drag would vanish. Typical of a low wing; common practice, no source.
 */
const WING_HEIGHT_SPANS = 0.1;

/** Coefficients of one aeroplane at the mass flown. Speeds are equivalent airspeeds (m/s). */
export interface Aeroplane {
  readonly massKg: number;
  readonly weightN: number;
  readonly wingAreaM2: number;
  readonly wingSpanM: number;
  readonly wingHeightM: number;
  readonly stallCleanMps: number;
  readonly stallLandingMps: number;
  readonly bestGlideMps: number;
  readonly liftMaxClean: number;
  readonly liftMaxLanding: number;
  /** CD0: gear up, flap up, the propeller state of the handbook glide. */
  readonly dragZeroLift: number;
  /** K of CD = CD0 + K·CL². */
  readonly inducedFactor: number;
  readonly gearDrag: number;
  readonly flapDrag: number;
  /** Drag added by the dead propeller in each state that the numbers speak of. */
  readonly propellerDrag: { readonly [state in PropellerState]?: number };
  readonly thrust: ThrustLaw;
}

/** Thrust at full power: `linear` is (T0 + T1·V)·ρ/ρ0; `power` is P·(σ - (1 - σ)/7.55)/V, V not below `leastMps`. */
export type ThrustLaw =
  | { readonly kind: 'linear'; readonly staticN: number; readonly slopeNsPerM: number }
  | { readonly kind: 'power'; readonly powerW: number; readonly leastMps: number };

/** Figures a reader can check against the handbook or other aeroplanes, in handbook units. */
export interface DerivedFigures {
  readonly stallCleanKcas: number;
  readonly stallLandingKcas: number;
  readonly bestGlideKcas: number;
  readonly leastSinkKcas: number;
  /** Sink at best glide, sea level, ISA (ft/min). */
  readonly bestGlideSinkFpm: number;
  readonly liftMaxClean: number;
  readonly liftMaxLanding: number;
  readonly dragZeroLift: number;
  readonly inducedFactor: number;
  readonly aspectRatio: number;
  /** Oswald efficiency that the induced factor stands for; plausible between 0.5 and 1. */
  readonly oswaldEfficiency: number;
  readonly propellerDrag: { readonly [state in PropellerState]?: number };
  readonly thrust: ThrustLaw;
  /** Where the numbers contradict each other, or what an aeroplane can be; empty when nothing was found. */
  readonly warnings: readonly HandbookWarning[];
}

/**
 * Coefficients of an aeroplane: largest lift from the stall speeds; polar from best glide, where half the drag is
 * induced; thrust line through two climb points, or constant thrust power through one; stall and glide speeds
 * scaled by √(mass/reference mass). Numbers must have passed `checkAircraft`.
 *
 * @see Anderson, Introduction to Flight, for the parabolic polar.
 */
export function deriveAeroplane(aircraft: AircraftNumbers): Aeroplane {
  const referenceKg = aircraft.referenceMassKg ?? aircraft.massKg;
  const speedScale = Math.sqrt(aircraft.massKg / referenceKg);
  const referenceN = referenceKg * GRAVITY_MPS2;
  const liftAt = (kcas: number) =>
    referenceN / (0.5 * SEA_LEVEL_DENSITY_KG_M3 * (kcas * MPS_PER_KT) ** 2 * aircraft.wingAreaM2);
  const glideLift = liftAt(aircraft.bestGlideKcas);
  const dragZeroLift = glideLift / (2 * aircraft.bestGlideRatio);
  const inducedFactor = 1 / (2 * aircraft.bestGlideRatio * glideLift);
  return {
    massKg: aircraft.massKg,
    weightN: aircraft.massKg * GRAVITY_MPS2,
    wingAreaM2: aircraft.wingAreaM2,
    wingSpanM: aircraft.wingSpanM,
    wingHeightM: aircraft.wingSpanM * WING_HEIGHT_SPANS,
    stallCleanMps: aircraft.stallCleanKcas * MPS_PER_KT * speedScale,
    stallLandingMps: aircraft.stallLandingKcas * MPS_PER_KT * speedScale,
    bestGlideMps: aircraft.bestGlideKcas * MPS_PER_KT * speedScale,
    liftMaxClean: liftAt(aircraft.stallCleanKcas),
    liftMaxLanding: liftAt(aircraft.stallLandingKcas),
    dragZeroLift,
    inducedFactor,
    gearDrag: aircraft.gearDragCoefficient,
    flapDrag: aircraft.flapDragCoefficient,
    propellerDrag: propellerDrag(aircraft, 2 * dragZeroLift),
    thrust: thrustLaw(aircraft, referenceN, dragZeroLift, inducedFactor),
  };
}

/** What {@link deriveAeroplane} found, for a reader. */
export function derivedFigures(aircraft: AircraftNumbers): DerivedFigures {
  const plane = deriveAeroplane(aircraft);
  const aspectRatio = plane.wingSpanM ** 2 / plane.wingAreaM2;
  const bestGlideKcas = plane.bestGlideMps / MPS_PER_KT;
  return {
    stallCleanKcas: plane.stallCleanMps / MPS_PER_KT,
    stallLandingKcas: plane.stallLandingMps / MPS_PER_KT,
    bestGlideKcas,
    leastSinkKcas: bestGlideKcas * 3 ** -0.25,
    bestGlideSinkFpm: (plane.bestGlideMps * Math.sin(Math.atan(1 / aircraft.bestGlideRatio))) / MPS_PER_FPM,
    liftMaxClean: plane.liftMaxClean,
    liftMaxLanding: plane.liftMaxLanding,
    dragZeroLift: plane.dragZeroLift,
    inducedFactor: plane.inducedFactor,
    aspectRatio,
    oswaldEfficiency: 1 / (Math.PI * aspectRatio * plane.inducedFactor),
    propellerDrag: plane.propellerDrag,
    thrust: plane.thrust,
    warnings: handbookWarnings(aircraft, plane),
  };
}

/** Share of the power up to which an engine counts as dead: some thousandths of a newton of thrust. */
export const DEAD_POWER = 1e-6;

/**
 * Full-power thrust (N).
 *
 * @param tasMps True airspeed (m/s).
 * @param densityKgM3 Air density (kg/m³).
 */
export function fullThrustN(law: ThrustLaw, tasMps: number, densityKgM3: number): number {
  const sigma = densityKgM3 / SEA_LEVEL_DENSITY_KG_M3;
  if (law.kind === 'linear') {
    const thrustN = (law.staticN + law.slopeNsPerM * tasMps) * sigma;
    return Math.max(thrustN, 0);
  }
  const lapse = sigma - (1 - sigma) / GAGG_FERRAR;
  return lapse > 0 ? (law.powerW * lapse) / Math.max(tasMps, law.leastMps) : 0;
}

/**
 * Part of the induced drag that is left near the ground.
 *
 * @param heightM Height of the wing above the ground (m).
 * @see McCormick, Aerodynamics, Aeronautics and Flight Mechanics, take-off chapter.
 */
export function groundEffectFactor(heightM: number, wingSpanM: number): number {
  const ratio = (16 * heightM) / wingSpanM;
  return (ratio * ratio) / (1 + ratio * ratio);
}

/** ΔCD that makes the sink at best glide `factor` times the one flown with the handbook's propeller state. */
function propellerDrag(aircraft: AircraftNumbers, glideDrag: number): { [state in PropellerState]?: number } {
  const handbook = aircraft.propellerSinkFactor[aircraft.bestGlidePropeller] ?? 1;
  const result: { [state in PropellerState]?: number } = { [aircraft.bestGlidePropeller]: 0 };
  for (const state of ['coarse', 'stopped', 'windmillingFine'] as const) {
    const factor = aircraft.propellerSinkFactor[state];
    if (factor !== undefined) result[state] = (factor / handbook - 1) * glideDrag;
  }
  return result;
}

/** Fits the thrust in the steady climbs of the handbook (sea level, ISA, reference mass, gear and flap up). */
function thrustLaw(aircraft: AircraftNumbers, weightN: number, dragZeroLift: number, inducedFactor: number): ThrustLaw {
  const points = aircraft.climb.map(({ kcas, rateFpm }) => {
    const tasMps = kcas * MPS_PER_KT;
    const sinClimb = (rateFpm * MPS_PER_FPM) / tasMps;
    const pressureAreaN = 0.5 * SEA_LEVEL_DENSITY_KG_M3 * tasMps * tasMps * aircraft.wingAreaM2;
    const lift = (weightN * Math.sqrt(1 - sinClimb * sinClimb)) / pressureAreaN;
    return { tasMps, thrustN: pressureAreaN * (dragZeroLift + inducedFactor * lift * lift) + weightN * sinClimb };
  });
  const first = points[0];
  const second = points[1];
  if (first === undefined) throw new RangeError('aircraft.climb must hold one or two climb points, got none');
  if (second === undefined) {
    const leastMps = aircraft.stallCleanKcas * MPS_PER_KT;
    return { kind: 'power', powerW: first.thrustN * Math.max(first.tasMps, leastMps), leastMps };
  }
  const slopeNsPerM = (second.thrustN - first.thrustN) / (second.tasMps - first.tasMps);
  return { kind: 'linear', staticN: first.thrustN - slopeNsPerM * first.tasMps, slopeNsPerM };
}
