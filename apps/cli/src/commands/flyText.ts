// One modelled attempt as a person reads it.
import type { FlyRequest, FlyResult, HandbookWarning } from '@stillprop/physics';
import type { RecordedFrom } from '../departure.js';
import { entry, ft, plain, thousands, wrap, written } from '../sheet.js';
import { warningLines } from '../warnings.js';
import { endedAhead, outcomeWords } from './words.js';

/** A contact with more sink than this is no landing, whatever its place; own choice. */
const HARD_SINK_FPM = 1000;

/** The same answer for a person to read. */
export function flyText(
  request: FlyRequest,
  result: FlyResult,
  warnings: readonly HandbookWarning[] = [],
  from: RecordedFrom | null = null,
): string {
  const { touchdown } = result;
  const there = from === null ? 'failure' : 'that state';
  const rows: [string, string][] = [
    [`Distance from brake release at ${there}`, ft(result.failure.distanceFt)],
    [from === null ? 'Climbed on after the failure' : 'Climbed on from that state', ft(result.heightGainedFt)],
    ...(request.technique.delayS === 0 ? [] : [speedRow(result)]),
    ...turnRows(result, from),
    ['Largest sink', `${thousands(result.largestSinkFpm)} ft/min`],
    ['Least speed over stall speed at that load factor', written(result.leastStallMargin, 2)],
    ['Wings level at', ft(result.wingsLevelHeightFt)],
    ['Touchdown along the take-off direction', ft(touchdown.alongFt)],
    ['Touchdown from the centreline', beside(touchdown.acrossFt)],
    [
      'Sink at touchdown',
      `${thousands(touchdown.sinkFpm)} ft/min${touchdown.sinkFpm > HARD_SINK_FPM ? ': too hard to walk away from unhurt' : ''}`,
    ],
    ['Touchdown groundspeed', `${thousands(touchdown.groundspeedKt)} kt`],
    ...returnedRow(request, result),
    ['Runway left when stopped', runwayLeft(result)],
    [from === null ? 'Failure to touchdown' : 'That state to touchdown', `${thousands(result.timeToGroundS)} s`],
  ];
  const width = Math.max(...rows.map(([name]) => name.length)) + 2;
  return [
    ...wrap(askedLine(request, result, from)),
    ...wrap(`By the model it ${outcomeWords(request, result)}.`),
    '',
    ...warningLines(warnings),
    ...rows.flatMap(([name, value]) => entry(name, value, width + 2)),
    '',
    ...wrap(
      'A computed flight is no licence to try it low in an aeroplane. The aircraft handbook, local rules and a qualified instructor come first. Left out: gusts, traffic, obstacles, and what fear does to a pilot.',
    ),
    '',
  ].join('\n');
}

function askedLine({ aircraft, runway, technique }: FlyRequest, result: FlyResult, from: RecordedFrom | null): string {
  const delay = `${plain(technique.delayS)} s delay${from === null ? '' : ' counted from there'}`;
  const flown =
    technique.turn === 'ahead'
      ? `landing ahead at ${plain(technique.targetKcas)} kt`
      : `${plain(technique.bankDeg)}° bank, ${plain(technique.targetKcas)} kt`;
  const where =
    from === null
      ? `engine failure at ${ft(result.failure.heightFt)}`
      : `from ${ft(result.failure.heightFt)}, the state at ${from.timeS.toFixed(1)} s of ${from.recording}`;
  return `${aircraft.name}, runway ${runway.name}: ${where}, ${delay}, ${flown}.`;
}

function speedRow({ speedLostKt }: FlyResult): [string, string] {
  return Math.round(speedLostKt * 10) < 0
    ? ['Speed gained in the delay', `${written(-speedLostKt, 1)} kt true`]
    : ['Speed lost in the delay', `${written(speedLostKt, 1)} kt true`];
}

/** Nothing of a turn for a landing ahead that was asked for. */
function turnRows(result: FlyResult, from: RecordedFrom | null): [string, string][] {
  const { turn, turnedDeg, heightLostTo180Ft } = result;
  if (turn === 'ahead') return [];
  const on = from === null ? '' : ' from there';
  return [
    [`Height lost to 180° of turn${on}`, heightLostTo180Ft === null ? '180° was not turned' : ft(heightLostTo180Ft)],
    [`Turned${on}`, turnedWords(turn, turnedDeg, endedAhead(result))],
  ];
}

function turnedWords(turn: 'left' | 'right', turnedDeg: number, ahead: boolean): string {
  if (Math.round(turnedDeg) === 0) return 'not at all';
  return `${thousands(turnedDeg)}° to the ${turn}${ahead ? ': not turned back' : ''}`;
}

function beside(acrossFt: number): string {
  return Math.round(acrossFt) === 0 ? 'on it' : `${ft(Math.abs(acrossFt))} ${acrossFt < 0 ? 'left' : 'right'}`;
}

function runwayLeft(result: FlyResult): string {
  if (endedAhead(result)) return 'not told: it landed ahead';
  if (result.stopMarginFt === null) return 'it is not on the runway';
  const leftFt = Math.floor(result.stopMarginFt);
  return leftFt < 0 ? `none: ${ft(-leftFt)} past its end` : ft(leftFt);
}

/** Told only where the return went to another runway than the one left. */
function returnedRow({ runway }: FlyRequest, { returnedTo }: FlyResult): [string, string][] {
  return returnedTo === null || returnedTo.name === runway.name ? [] : [['Returned to runway', returnedTo.name]];
}
