// A plan as a pilot pins it to the clipboard: one page, the decision first, then what is behind it, then what was left out.
import type { FlyRequest } from '@stillprop/physics';
import { ft, plain, thousands, wrap } from '../sheet.js';
import { warningLines } from '../warnings.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';
import { decisionLines, whyAhead } from './planDecision.js';
import { fromLines } from './planFrom.js';
import { sketchLines } from './planSketch.js';
import { climbTable, costTable, fieldLines, optimisedLines, spreadTable, turnTable } from './planTables.js';
import { turnLines } from './planTurn.js';

/** Winds told on the sheet. */
const WINDS = 3;

export function planText(request: FlyRequest, answer: PlanAnswer): string {
  const sheet: PlanSheet = { request, answer };
  return [
    ...departureLines(sheet),
    '',
    ...warningLines(answer.warnings),
    ...fromLines(sheet),
    ...decisionLines(sheet),
    ...returnLines(sheet),
    ...fieldLines(sheet),
    ...flightsLines(sheet),
    ...wrap(
      'Left out: gusts beyond the spread, obstacles, traffic, brake failure, and what fear does to a pilot. Computed, for simulator practice: no licence to try it low in an aeroplane. The aircraft handbook, local rules and a qualified instructor come first.',
    ),
    ...optimisedLines(sheet),
    '',
  ].join('\n');
}

/**
 * What there is to say of returns: nothing where the technique lands ahead, no more than the windows and the turn where
 * none was found, and where none is to be counted on all of it under a heading that says so.
 */
function returnLines(sheet: PlanSheet): string[] {
  const { request, answer } = sheet;
  if (request.technique.turn === 'ahead') return [];
  if (answer.lowestReturnFt === null) return [...sketchLines(sheet), ...turnTable(sheet)];
  return [
    ...(whyAhead(answer) === null
      ? []
      : ['RETURNS, FOR THE SIMULATOR: none below is to be counted on', ...turnLines(answer), '']),
    ...sketchLines(sheet),
    ...turnTable(sheet),
    ...costTable(sheet),
    ...climbTable(sheet),
    ...spreadTable(sheet),
  ];
}

function departureLines({ request, answer }: PlanSheet): string[] {
  const { aircraft, runway, weather, technique, failure } = request;
  const turnStall = stallInTurnKcas(aircraft, technique.bankDeg);
  const straight = technique.straightKcas === undefined ? '' : `, ${plain(technique.straightKcas)} kt straight`;
  const power = failure.powerFraction === 0 ? 'no power' : `${plain(failure.powerFraction * 100)} % power left`;
  const delay = `${plain(technique.delayS)} s delay`;
  const begin =
    answer.from === undefined
      ? `Climb ${plain(technique.climbKcas)} kt; ${delay}`
      : `${delay}, counted from the state below`;
  const turn =
    technique.turn === 'ahead'
      ? `land ahead at ${plain(technique.targetKcas)} kt`
      : `turn at ${plain(technique.bankDeg)}° bank and ${plain(technique.targetKcas)} kt${straight} (stall in it ${thousands(Math.ceil(turnStall))} kt)`;
  return [
    ...wrap(
      `${technique.turn === 'ahead' ? 'LAND-AHEAD' : 'TURN-BACK'} PLAN (simulator practice)  ${aircraft.name}, ${thousands(aircraft.massKg)} kg`,
      2,
    ),
    ...wrap(
      `Runway ${runway.name}, ${ft(runway.lengthFt)} by ${ft(runway.widthFt)}, ${runway.surface.replace('-', ' ')}, elevation ${ft(runway.elevationFt)}; ${plain(weather.temperatureC)} °C, ${thousands(weather.qnhHpa).replace(',', '')} hPa`,
      2,
    ),
    ...wrap(windLine(runway.headingTrueDeg, weather.winds), 2),
    ...wrap(`${begin}; ${turn}`, 2),
    ...wrap(`Engine: ${power}, propeller ${PROPELLERS[failure.propeller]}. Kt CAS, ft above runway.`, 2),
  ];
}

const PROPELLERS = { coarse: 'coarse', stopped: 'stopped', windmillingFine: 'windmilling, fine pitch' } as const;

function stallInTurnKcas(aircraft: FlyRequest['aircraft'], bankDeg: number): number {
  const massFactor = Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  return (aircraft.stallCleanKcas * massFactor) / Math.sqrt(Math.cos((bankDeg * Math.PI) / 180));
}

function windLine(headingTrueDeg: number, winds: FlyRequest['weather']['winds']): string {
  if (winds.every(({ speedKt }) => speedKt === 0)) return 'Wind: calm';
  const told = winds.slice(0, WINDS).map(({ heightFt, fromTrueDeg, speedKt }) => {
    const offRad = ((fromTrueDeg - headingTrueDeg) * Math.PI) / 180;
    const [head, cross] = [Math.round(speedKt * Math.cos(offRad)), Math.round(speedKt * Math.sin(offRad))];
    const parts = [
      head === 0 ? '' : `${Math.abs(head)} ${head < 0 ? 'TAIL' : 'head'}`,
      cross === 0 ? '' : `${Math.abs(cross)} from the ${cross < 0 ? 'left' : 'right'}`,
    ].filter((part) => part !== '');
    const from = String(Math.round(fromTrueDeg) % 360 || 360).padStart(3, '0');
    return `${from}° true ${Math.round(speedKt)} kt at ${ft(heightFt)} (${parts.join(', ') || 'none'})`;
  });
  return `Wind: ${told.join('; ')}${winds.length > WINDS ? `; ${winds.length - WINDS} more higher up` : ''}`;
}

/** Of what is on the sheet; nothing where no return was looked for. */
function flightsLines({ request, answer: { scan, spread, climbs, lowestReturnFt } }: PlanSheet): string[] {
  if (request.technique.turn === 'ahead') return [];
  const parts = [
    `${thousands(scan.flights)} for the windows (every ${ft(scan.stepFt)}, edges to 1 ft)`,
    ...(climbs === null || climbs.flights === 0 || lowestReturnFt === null
      ? []
      : [`${thousands(climbs.flights)} for the climb speeds`]),
    ...(spread === null || lowestReturnFt === null ? [] : [`${thousands(spread.flights)} for the errors`]),
  ];
  return wrap(`Flights computed (those behind the costs not counted): ${parts.join(', ')}.`);
}
