// Where handbook numbers contradict each other, or what an aeroplane can be: said, never mended.
import type { Aeroplane } from './aeroplane.js';
import type { AircraftNumbers } from './request.js';
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT } from './units.js';

/** A doubt about the numbers of an aeroplane. */
export interface HandbookWarning {
  /** The number to look at first, as `aircraft.<field>`. */
  readonly field: string;
  readonly message: string;
}

/** Ranges of light single-engine aeroplanes; common practice, no source. */
const OSWALD = [0.5, 1] as const;
const LIFT_CLEAN = [0.9, 2] as const;
const LIFT_LANDING = [1.1, 3.2] as const;
const DRAG_ZERO_LIFT = [0.012, 0.08] as const;
/** Mean deceleration of a landing roll (g): friction of wheels, typical figures of Raymer's take-off table; from memory. */
const BRAKING_G = [0.08, 0.5] as const;
/** A propeller never pulls more than this share of the weight standing still. */
const STATIC_THRUST_SHARE = 0.6;
/** Bank of the turn back that best glide is held against (deg). */
const TURN_BANK_DEG = 45;
const REFERENCE_TOUCHDOWN_STALLS = 1.1;

/**
 * Doubts about the numbers of an aeroplane that has passed `checkAircraft`, with the figures that were derived from
 * them. An empty list is no proof: numbers may agree and still be wrong.
 */
export function handbookWarnings(aircraft: AircraftNumbers, plane: Aeroplane): HandbookWarning[] {
  const found: HandbookWarning[] = [];
  const doubt = (field: string, message: string) => found.push({ field: `aircraft.${field}`, message });
  const outside = (value: number, [low, high]: readonly [number, number]) => value < low || value > high;
  const oswald = plane.wingAreaM2 / (Math.PI * plane.wingSpanM ** 2 * plane.inducedFactor);
  if (outside(oswald, OSWALD))
    doubt(
      'bestGlideRatio',
      `best glide, its ratio, the mass and the wing together ask for an Oswald efficiency of ${oswald.toFixed(2)}, where aeroplanes have ${OSWALD[0]} to ${OSWALD[1]}`,
    );
  if (outside(plane.dragZeroLift, DRAG_ZERO_LIFT))
    doubt(
      'bestGlideKcas',
      `best glide and its ratio ask for a zero-lift drag coefficient of ${plane.dragZeroLift.toFixed(3)}, where aeroplanes have ${DRAG_ZERO_LIFT[0]} to ${DRAG_ZERO_LIFT[1]}`,
    );
  if (outside(plane.liftMaxClean, LIFT_CLEAN))
    doubt(
      'stallCleanKcas',
      `the clean stall speed asks for a largest lift coefficient of ${plane.liftMaxClean.toFixed(2)}, where wings without flap have ${LIFT_CLEAN[0]} to ${LIFT_CLEAN[1]}`,
    );
  if (outside(plane.liftMaxLanding, LIFT_LANDING))
    doubt(
      'stallLandingKcas',
      `the landing stall speed asks for a largest lift coefficient of ${plane.liftMaxLanding.toFixed(2)}, where wings with flap have ${LIFT_LANDING[0]} to ${LIFT_LANDING[1]}`,
    );
  const turnStall = aircraft.stallCleanKcas / Math.sqrt(Math.cos((TURN_BANK_DEG * Math.PI) / 180));
  if (aircraft.bestGlideKcas < turnStall)
    doubt(
      'bestGlideKcas',
      `best glide (${aircraft.bestGlideKcas} kt) lies below the stall in a turn at ${TURN_BANK_DEG}° (${turnStall.toFixed(0)} kt)`,
    );
  const leastSink = aircraft.bestGlideKcas * 3 ** -0.25;
  if (leastSink < aircraft.stallCleanKcas)
    doubt(
      'bestGlideKcas',
      `the speed of least sink that belongs to best glide (${leastSink.toFixed(0)} kt) lies below the stall (${aircraft.stallCleanKcas} kt): near the stall the real polar is worse than the one used`,
    );
  thrustDoubts(plane, doubt);
  const touchdownMps = REFERENCE_TOUCHDOWN_STALLS * aircraft.stallLandingKcas * MPS_PER_KT;
  const braking = touchdownMps ** 2 / (2 * aircraft.landingRollFt * M_PER_FT) / GRAVITY_MPS2;
  if (outside(braking, BRAKING_G))
    doubt(
      'landingRollFt',
      `a landing roll of ${aircraft.landingRollFt} ft from ${(touchdownMps / MPS_PER_KT).toFixed(0)} kt takes a mean deceleration of ${braking.toFixed(2)} g, where wheels give ${BRAKING_G[0]} to ${BRAKING_G[1]} g`,
    );
  const { coarse, stopped, windmillingFine } = plane.propellerDrag;
  if (windmillingFine !== undefined && Math.max(coarse ?? -1, stopped ?? -1) > windmillingFine)
    doubt(
      'propellerSinkFactor',
      'a propeller windmilling in fine pitch is given less drag than a coarse or stopped one: it has most',
    );
  if (Math.min(coarse ?? 0, stopped ?? 0, windmillingFine ?? 0) <= -plane.dragZeroLift)
    doubt('propellerSinkFactor', 'one propeller state would leave the aeroplane without drag');
  return found;
}

function thrustDoubts({ thrust, weightN, stallCleanMps }: Aeroplane, doubt: (field: string, message: string) => void) {
  if (thrust.kind === 'power') return;
  if (thrust.slopeNsPerM > 0)
    doubt(
      'climb',
      'the two climbs together ask for a thrust that grows with speed: the faster climb is too good, or the slower one too poor',
    );
  const share = thrust.staticN / weightN;
  if (share > STATIC_THRUST_SHARE)
    doubt(
      'climb',
      `the two climbs together ask for a standing thrust of ${share.toFixed(2)} of the weight: the slower climb is too good, or the faster one too poor`,
    );
  if (thrust.staticN + thrust.slopeNsPerM * 2 * stallCleanMps <= 0)
    doubt('climb', 'the two climbs together leave no thrust at twice the stall speed');
}
