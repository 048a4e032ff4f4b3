// What a plan from a recorded state says first: the height there was, the height needed, and what the return would have been.
import { entry, ft, plain, thousands, wrap } from '../sheet.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';
import { ISLAND_WORDS, stopsOf, windowWords } from './planWindows.js';
import { outcomeWords } from './words.js';

/** From this bank on the state is told as one in a turn (deg). */
const TURNING_DEG = 10;

export function isTurning({ from }: PlanAnswer): boolean {
  return from !== undefined && Math.abs(from.start.bankDeg) >= TURNING_DEG;
}

export function fromLines({ request, answer }: PlanSheet): string[] {
  const { from, flight } = answer;
  if (from === undefined) return [];
  const { start } = from;
  return [
    ...wrap(`FROM THE STATE AT ${from.timeS.toFixed(1)} s of ${from.recording}`, 2),
    ...entry(
      'There were',
      `${ft(start.heightFt)}, ${thousands(start.ktas)} kt true, ${thousands(Math.abs(start.verticalSpeedFpm))} ft/min ${start.verticalSpeedFpm < 0 ? 'down' : 'up'}, ${bankWords(start.bankDeg)}, ${ft(start.alongFt)} along from brake release, ${acrossWords(start.acrossFt)}`,
    ),
    ...entry('A return needed', `${needed(answer, start.heightFt)}, flown without error.`),
    ...entry('From there', `by the model it ${outcomeWords(request, flight)}.`),
    ...wrap(
      `  Heights below are heights of this state: same place, speed and attitude. ${delayWords(answer, request.technique.delayS)}`,
      2,
    ),
    ...(answer.plannedAsReturn === true
      ? wrap('  The technique given lands ahead: planned here is a return to the better side instead.', 2)
      : []),
    '',
  ];
}

/** The height needed against the height there was; a window that closes below it is no height to spare. */
function needed(answer: PlanAnswer, hadFt: number): string {
  const island = stopsOf(answer).islands.find(({ fromFt, toFt }) => hadFt >= fromFt && hadFt <= toFt);
  const luck = island === undefined ? '' : ` (it works from ${windowWords(island)} too, by ${ISLAND_WORDS})`;
  return `${neededToPlan(answer, hadFt)}${luck}`;
}

function neededToPlan(answer: PlanAnswer, hadFt: number): string {
  const { scan } = answer;
  const { wide: stops } = stopsOf(answer);
  const [lowest] = stops;
  const highest = stops.at(-1);
  if (lowest === undefined || highest === undefined) return `none from ${ft(scan.fromFt)} to ${ft(scan.toFt)} works`;
  const inside = stops.find(({ fromFt, toFt }) => hadFt >= fromFt && hadFt <= toFt);
  if (inside !== undefined) {
    const atMost = inside.fromIsScanEnd ? ' or less' : '';
    const closes = inside.toIsScanEnd ? '' : ` (it works up to ${ft(Math.floor(inside.toFt))})`;
    return `${ft(Math.ceil(inside.fromFt))}${atMost}: ${ft(Math.floor(hadFt - inside.fromFt))} to spare${closes}`;
  }
  if (hadFt < lowest.fromFt)
    return lowest.fromIsScanEnd
      ? `not known: the scan began at ${ft(scan.fromFt)}`
      : `${ft(Math.ceil(lowest.fromFt))}: ${ft(Math.ceil(lowest.fromFt - hadFt))} too few`;
  const works = `it works from ${stops.map(windowWords).join('; ')}`;
  if (hadFt < highest.fromFt) return `another height, this one lies between: ${works}`;
  return highest.toIsScanEnd
    ? `not known so high: ${works}`
    : `less height, ${ft(Math.ceil(hadFt - highest.toFt))} too many: ${works}`;
}

function delayWords(answer: PlanAnswer, delayS: number): string {
  if (delayS === 0) return '';
  const acted = isTurning(answer) || (answer.from?.start.verticalSpeedFpm ?? 0) < 0;
  const wait = `The ${plain(delayS)} s of delay count from it${isTurning(answer) ? ', its bank held for so long' : ''}`;
  return acted ? `${wait}: if they were over by then, ask with a --technique whose delayS is 0.` : `${wait}.`;
}

const bankWords = (bankDeg: number) =>
  Math.round(bankDeg) === 0 ? 'wings level' : `${thousands(Math.abs(bankDeg))}° bank to the ${sideOf(bankDeg)}`;
const acrossWords = (acrossFt: number) =>
  Math.round(acrossFt) === 0 ? 'on the centreline' : `${ft(Math.abs(acrossFt))} ${sideOf(acrossFt)} of the centreline`;
const sideOf = (value: number) => (value < 0 ? 'left' : 'right');
