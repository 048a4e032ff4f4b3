// The lines a pilot decides by: below which height ahead, between which heights a return is to be counted on, which way.
import { type Outcome, type SpreadAtHeight, wilson } from '@stillprop/physics';
import { entry, ft, percentDown, plain, thousands, upTo10 } from '../sheet.js';
import { type CountedOn, countedOn, isSure } from './countedOn.js';
import { aheadEntry, aheadLines } from './planAhead.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';
import { turnLines } from './planTurn.js';
import { stopsOf, windowWords } from './planWindows.js';

/** Draws with which the interval reaches the share when every one of them ends well. */
const LEAST_DRAWS = leastDraws();

function leastDraws(): number {
  let draws = 1;
  while (!isSure({ endsWell: wilson(draws, draws) })) draws++;
  return draws;
}

export function decisionLines(sheet: PlanSheet): string[] {
  const { request, answer } = sheet;
  if (request.technique.turn === 'ahead') return aheadLines(sheet);
  const heading =
    answer.from === undefined
      ? 'DECIDE BEFORE TAKE-OFF, by the height of the failure (computed: see the foot)'
      : 'BY THE HEIGHT OF THIS STATE (computed: see the foot)';
  const landAhead = whyAhead(answer);
  return [
    heading,
    ...(landAhead === null ? heightLines(answer) : entry('At every height', `LAND AHEAD: ${landAhead}`)),
    ...aheadEntry(answer),
    ...(landAhead === null ? turnLines(answer) : []),
    '',
  ];
}

/** Why no return is to be counted on from any height; null: from some it is, or that was not asked. */
export function whyAhead(answer: PlanAnswer): string | null {
  const { lowestReturnFt, spread } = answer;
  if (lowestReturnFt === null) return noReturn(answer);
  if (spread === null) return null;
  if (spread.draws < LEAST_DRAWS)
    return `too few draws to tell. It takes ${LEAST_DRAWS} at a height, even if all end well; there were ${thousands(spread.draws)}.`;
  if (countedOn(answer) !== null) return null;
  const best = spread.heights.reduce((a, b) => (b.endsWell.low > a.endsWell.low ? b : a));
  return `with ordinary errors no height tried is sure to end well 95 times in 100. Best is ${shareAt(best)}: not counted on.`;
}

function noReturn(answer: PlanAnswer): string {
  const { scan, bestTurn, turns } = answer;
  const scanned = `was found from ${ft(scan.fromFt)} to ${ft(scan.toFt)}, not even flown without error`;
  const found =
    stopsOf(answer).islands.length > 0
      ? `no return to plan with ${scanned}: too narrow a band of heights is luck.`
      : `no return that stops on the runway ${scanned}.`;
  const other = bestTurn === 'left' ? 'right' : 'left';
  const otherFt = turns.matters ? turns[other].lowestReturnFt : null;
  const side =
    otherFt === null
      ? ''
      : ` To the ${other} one was found, from ${ft(upTo10(otherFt))}: the technique names the ${bestTurn}.`;
  return `${found}${side}${otherClimb(answer)}`;
}

/** The climb speed that leaves the lowest return, where the planned one leaves none. */
function otherClimb({ climbs }: PlanAnswer): string {
  const [lowest] = (climbs?.choices ?? [])
    .flatMap(({ climbKcas, lowestReturnFt }) => (lowestReturnFt === null ? [] : [{ climbKcas, lowestReturnFt }]))
    .sort((a, b) => a.lowestReturnFt - b.lowestReturnFt);
  return lowest === undefined
    ? ''
    : ` Climbing at ${plain(lowest.climbKcas)} kt one was found, from ${ft(upTo10(lowest.lowestReturnFt))}.`;
}

function heightLines(answer: PlanAnswer): string[] {
  const counted = countedOn(answer);
  if (counted !== null) return countedLines(counted, answer);
  const [lowest] = stopsOf(answer).wide;
  if (lowest === undefined) return [];
  return [
    ...entry(`Below ${ft(lowest.fromIsScanEnd ? lowest.fromFt : upTo10(lowest.fromFt))}`, 'LAND AHEAD.'),
    ...entry(
      'Above that',
      `a flawless return just works from ${windowWords(lowest)}. What errors cost was not asked: plan higher.`,
    ),
  ];
}

function countedLines({ fromFt, toFt, above }: CountedOn, answer: PlanAnswer): string[] {
  const band = fromFt === toFt ? `At ${ft(fromFt)}` : `${ft(fromFt)} to ${ft(toFt)}`;
  return [
    ...entry(`Below ${ft(fromFt)}`, 'LAND AHEAD.'),
    ...entry(
      band,
      `a return ends well 95 times in 100 with ordinary errors${above === null ? '; not tried above' : ''}.`,
    ),
    ...(above === null ? [] : entry(`Above ${ft(toFt)}`, `not counted on: ${whatGoesWrong(above, answer)}.`)),
  ];
}

/** "92 % (at least 88 %) from 1,450 ft". */
const shareAt = ({ heightFt, endsWell }: SpreadAtHeight) =>
  `${percentDown(endsWell.share)} % (at least ${percentDown(endsWell.low)} %) from ${ft(heightFt)}`;

const WRONG: Record<Exclude<Outcome, 'stopped-on-runway'>, string> = {
  overrun: 'it touches the runway too far along to stop',
  'on-airfield': 'it comes down beside or beyond the runway',
  'off-airfield': 'it comes down outside the airfield',
  'wing-low-contact': 'it touches down with a wing low',
  stall: 'it stalls',
};

function whatGoesWrong(height: SpreadAtHeight, { scan }: PlanAnswer): string {
  if (isSure(height))
    return height.heightFt > scan.toFt
      ? `the scan for flawless returns ended at ${ft(scan.toFt)}`
      : `flown without error, not every height up to ${ft(height.heightFt)} works`;
  const wrong = Object.keys(WRONG) as (keyof typeof WRONG)[];
  const worst = wrong.reduce((a, b) => (height.outcomes[b] > height.outcomes[a] ? b : a));
  return `${shareAt(height)}; most often ${WRONG[worst]}`;
}
