// What a landing ahead has in front of it: one entry on a plan to return, the whole decision of a plan to land ahead.
import type { AheadReach } from '@stillprop/physics';
import { downTo10, entry, ft, thousands } from '../sheet.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';
import { outcomeWords } from './words.js';

/** Beside the other entries of a decision; nothing from a recorded state. */
export function aheadEntry({ ahead }: PlanAnswer): string[] {
  return ahead === null ? [] : entry('Straight ahead', `${aheadWords(ahead)} (flown without error).`);
}

function aheadWords({ stopsUpToFt, airfieldUpToFt, scannedToFt }: AheadReach): string {
  const upTo = (heightFt: number) =>
    heightFt === scannedToFt ? `up to ${ft(heightFt)}, where the scan ended` : `up to ${ft(downTo10(heightFt))}`;
  if (airfieldUpToFt === null) return 'beyond the airfield from 50 ft and above';
  const stops =
    stopsUpToFt === null ? 'no stop on the runway from 50 ft and above' : `stops on the runway ${upTo(stopsUpToFt)}`;
  if (stopsUpToFt === scannedToFt) return stops;
  const beyond = airfieldUpToFt === scannedToFt ? '' : '; from higher, beyond it';
  return `${stops}; inside the airfield ${upTo(airfieldUpToFt)}${beyond}`;
}

/** All that is decided where the technique lands ahead. */
export function aheadLines({ request, answer }: PlanSheet): string[] {
  const { flight } = answer;
  const { touchdown, failure, outcome } = flight;
  const field = outcome === 'off-airfield' ? ' Choose the field before take-off.' : '';
  return [
    'DECIDE BEFORE TAKE-OFF (computed: see the foot)',
    ...entry('At every height', 'LAND AHEAD, as this technique has it. What a return would take was not asked.'),
    ...aheadEntry(answer),
    ...entry(
      `From ${ft(failure.heightFt)}`,
      `it ${outcomeWords(request, flight)}: ${ft(touchdown.alongFt)} from brake release, ${ft(touchdown.alongFt - failure.distanceFt)} beyond the failure, ${thousands(flight.timeToGroundS)} s after it, at ${thousands(touchdown.groundspeedKt)} kt over the ground.${field}`,
    ),
    '',
  ];
}
