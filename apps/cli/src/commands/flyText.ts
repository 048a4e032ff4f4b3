// One modelled attempt as a person reads it.
import type { FlyRequest, FlyResult, HandbookWarning } from '@stillprop/physics';
import type { RecordedFrom } from '../departure.js';
import { ft, plain, wrap } from '../sheet.js';
import { warningLines } from '../warnings.js';
import { OUTCOME_WORDS } from './words.js';

/** A contact with more sink than this is no landing, whatever its place; own choice. */
const HARD_SINK_FPM = 1000;

/** The same answer for a person to read. */
export function flyText(
  request: FlyRequest,
  result: FlyResult,
  warnings: readonly HandbookWarning[] = [],
  from: RecordedFrom | null = null,
): string {
  const { technique, failure, runway, aircraft } = request;
  const { touchdown } = result;
  const side = (acrossFt: number) => `${ft(Math.abs(acrossFt))} ${acrossFt < 0 ? 'left' : 'right'}`;
  const rows: [string, string][] = [
    ['Distance from brake release at failure', ft(result.failure.distanceFt)],
    ['Climbed on after the failure', ft(result.heightGainedFt)],
    ['Speed lost in the delay', `${result.speedLostKt.toFixed(1)} kt true`],
    [
      'Height lost to 180° of turn',
      result.heightLostTo180Ft === null ? '180° was not turned' : ft(result.heightLostTo180Ft),
    ],
    ['Largest sink', `${Math.round(result.largestSinkFpm).toLocaleString('en-GB')} ft/min`],
    ['Least speed over stall speed at that load factor', result.leastStallMargin.toFixed(2)],
    ['Turned', `${Math.round(result.turnedDeg)}° ${result.turn === 'ahead' ? '' : `to the ${result.turn}`}`.trim()],
    ['Wings level at', ft(result.wingsLevelHeightFt)],
    ['Touchdown along the take-off direction', ft(touchdown.alongFt)],
    ['Touchdown from the centreline', side(touchdown.acrossFt)],
    [
      'Sink at touchdown',
      `${Math.round(touchdown.sinkFpm).toLocaleString('en-GB')} ft/min${touchdown.sinkFpm > HARD_SINK_FPM ? ': too hard to walk away from unhurt' : ''}`,
    ],
    ['Touchdown groundspeed', `${Math.round(touchdown.groundspeedKt)} kt`],
    ...returnedRow(request, result),
    ['Runway left when stopped', result.stopMarginFt === null ? 'not on the runway' : ft(result.stopMarginFt)],
    ['Failure to touchdown', `${result.timeToGroundS.toFixed(0)} s`],
  ];
  const width = Math.max(...rows.map(([name]) => name.length)) + 2;
  return [
    ...wrap(
      `${aircraft.name}, runway ${runway.name}: engine failure at ${ft(failure.heightFt)}, ${plain(technique.delayS)} s delay, ${plain(technique.bankDeg)}° bank, ${plain(technique.targetKcas)} kt.`,
    ),
    ...(from === null
      ? []
      : wrap(
          `Started from the state at ${from.timeS.toFixed(1)} s of ${from.recording}; the delay counts from there.`,
        )),
    `By the model it ${OUTCOME_WORDS[result.outcome]}.`,
    '',
    ...warningLines(warnings),
    ...rows.map(([name, value]) => `  ${name.padEnd(width)}${value}`),
    '',
    ...wrap(
      'A computed flight is no licence to try it low in an aeroplane. The aircraft handbook, local rules and a qualified instructor come first. Left out: gusts, traffic, obstacles, and what fear does to a pilot.',
    ),
    '',
  ].join('\n');
}

/** Told only where the return went to another runway than the one left. */
function returnedRow({ runway }: FlyRequest, { returnedTo }: FlyResult): [string, string][] {
  return returnedTo === null || returnedTo.name === runway.name ? [] : [['Returned to runway', returnedTo.name]];
}
