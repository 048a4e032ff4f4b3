// What a reader should know before trusting a fit: channels that were missing, wind that does not fit, airspeed in doubt.

import type { DrawnFailure } from '@stillprop/contracts';
import type { GlideColumns } from './glideColumns.js';
import type { FittedWind } from './glideFit.js';
import type { Segments } from './glideSegments.js';
import type { WindEstimate } from './windEstimate.js';

/**
 * A wind this far from the one flown in is worth a caution (kt). By the log law (MIL-F-8785C) a wind wrong by 5 kt is
 * wrong by 5·ln 10/ln(1000 ft/0.15 ft) = 1.3 kt = 0.67 m/s in its change from 1000 to 100 ft. At 85 kt (43.7 m/s) that
 * is V·Δw/g = 3 m of the 270 m of energy height lost on the way: one per cent, the least that matters (`figures.ts`).
 */
const WIND_APART_KT = 5;
/**
 * So is an airspeed this far from the ground track's (share): the way made in the air, and with it the glide ratio, is
 * wrong by as much. Three standard errors of it, so that chance alone asks for the caution in some 3 glides of 1000.
 */
const AIRSPEED_APART = 0.01;
const AIRSPEED_APART_ERRORS = 3;

/** Sentences about channels the recording lacks; `drags`: whether gear and flap of this aeroplane add drag. */
export function channelCautions(
  columns: GlideColumns,
  { powerFrom }: Segments,
  drags: { readonly gear: boolean; readonly flap: boolean },
  drawn: DrawnFailure,
): string[] {
  const cautions: string[] = [];
  if (drawn.kind !== 'total')
    cautions.push(
      `The recording drew no total failure: the propeller is taken as "${drawn.propeller}", and the engine as no longer driving it.`,
    );
  const lacks = (key: 'gearFraction' | 'flapFraction') => columns.samples.some((sample) => sample[key] === undefined);
  if (powerFrom === 'events')
    cautions.push('The power is not recorded: it was taken as gone from the failure on, as the events say.');
  if (powerFrom === 'assumed')
    cautions.push('Nothing in the recording tells of the power: it was taken as off in the range asked for.');
  if (columns.loadFactorFrom === 'estimated')
    cautions.push('The load factor is not recorded: it was worked out from bank and flight path.');
  if (drags.gear && lacks('gearFraction'))
    cautions.push('The gear is not recorded: it was taken as up, and drags if it was not.');
  if (drags.flap && lacks('flapFraction'))
    cautions.push('The flap is not recorded: it was taken as up, and drags if it was not.');
  return cautions;
}

/** Something the fit rests on and the ground track contradicts: no figure may be held against the handbook by it. */
export interface Doubt {
  readonly of: 'wind' | 'airspeed';
  /** Without a capital and a full stop, so that a refusal can go on with it. */
  readonly clause: string;
}

/** What the ground track contradicts; `estimated` is its wind at the height of `wind`. */
export function doubts(
  wind: FittedWind,
  { airspeedRatio: ratio }: WindEstimate,
  estimated: Pick<FittedWind, 'fromTrueDeg' | 'speedKt'>,
): Doubt[] {
  const found: Doubt[] = [];
  const told = (at: Pick<FittedWind, 'fromTrueDeg' | 'speedKt'>) =>
    `${Math.round(at.speedKt)} kt from ${String(Math.round(at.fromTrueDeg) % 360).padStart(3, '0')}°`;
  if (wind.source === 'known' && apartKt(wind, estimated) > WIND_APART_KT)
    found.push({
      of: 'wind',
      clause: `the ground track tells of a wind of ${told(estimated)} at ${Math.round(wind.heightFt)} ft, where the scenario has ${told(wind)}: if the simulator flies its own weather, fit with wind: 'estimated'`,
    });
  if (
    ratio !== null &&
    Math.abs(ratio.value - 1) > Math.max(AIRSPEED_APART, AIRSPEED_APART_ERRORS * ratio.standardError)
  )
    found.push({
      of: 'airspeed',
      clause: `the ground track asks for ${ratio.value.toFixed(3)} times the airspeed recorded: the figures and their intervals rest on the airspeed as recorded, and are wrong if it is`,
    });
  return found;
}

export function sentenceOf({ clause }: Doubt): string {
  return `${clause.charAt(0).toUpperCase()}${clause.slice(1)}.`;
}

/** Says where the airspeed could not be checked. */
export function turnCautions({ source }: FittedWind, { airspeedRatio, turnedDeg }: WindEstimate): string[] {
  return source === 'estimated' && airspeedRatio === null
    ? [
        `The glide turns ${Math.round(turnedDeg)}° only: an error of the airspeed looks like wind there, and the airspeed was taken as recorded. Turn 90° or more to have it checked.`,
      ]
    : [];
}

function apartKt(a: Pick<FittedWind, 'fromTrueDeg' | 'speedKt'>, b: Pick<FittedWind, 'fromTrueDeg' | 'speedKt'>) {
  const angle = ((a.fromTrueDeg - b.fromTrueDeg) * Math.PI) / 180;
  return Math.sqrt(Math.max(a.speedKt ** 2 + b.speedKt ** 2 - 2 * a.speedKt * b.speedKt * Math.cos(angle), 0));
}
