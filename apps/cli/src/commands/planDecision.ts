// The lines a pilot decides by: below which height ahead, between which heights a return is to be counted on, which way.
import { type Outcome, type Plan, type SpreadAtHeight, type TurnSide, wilson } from '@stillprop/physics';
import { downTo10, entry, ft, percentDown, thousands, upTo10 } from '../sheet.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';

/** Heights tried from which a return is sure to end well 95 times in 100. */
export interface CountedOn {
  readonly fromFt: number;
  readonly toFt: number;
  /** First height tried above it at which that is not sure; null: none was tried. */
  readonly above: SpreadAtHeight | null;
}

const SHARE = 0.95;

/**
 * The lowest run of heights tried at which the low end of the interval reaches the share, all of them inside one window
 * of flawless returns. The best of several point shares is too good by chance, so the share itself does not decide; nor
 * is anything told of heights below, above or without a trial.
 */
export function countedOn({ spread, returnWindows }: Plan): CountedOn | null {
  if (spread === null) return null;
  const { heights } = spread;
  const windowOf = ({ heightFt }: SpreadAtHeight) =>
    returnWindows.find(
      ({ outcome, fromFt, toFt }) => outcome === 'stopped-on-runway' && heightFt >= fromFt && heightFt <= toFt,
    );
  const at = heights.findIndex((height) => isSure(height) && windowOf(height) !== undefined);
  const first = heights[at];
  if (first === undefined) return null;
  const higher = heights.slice(at);
  const end = higher.findIndex((height) => !isSure(height) || windowOf(height) !== windowOf(first));
  const run = end === -1 ? higher : higher.slice(0, end);
  return {
    fromFt: first.heightFt,
    toFt: (run.at(-1) as SpreadAtHeight).heightFt,
    above: higher[run.length] ?? null,
  };
}

const isSure = ({ endsWell }: SpreadAtHeight) => endsWell.low >= SHARE;

/** Draws with which the interval reaches the share when every one of them ends well. */
const LEAST_DRAWS = leastDraws();

function leastDraws(): number {
  let draws = 1;
  while (wilson(draws, draws).low < SHARE) draws++;
  return draws;
}

export function decisionLines({ request, answer }: PlanSheet): string[] {
  const { technique } = request;
  return [
    answer.from === undefined
      ? 'DECIDE BEFORE TAKE-OFF, by the height of the failure (computed: see the foot)'
      : 'BY THE HEIGHT OF THIS STATE (computed: see the foot)',
    ...(technique.turn === 'ahead'
      ? entry('At every height', 'LAND AHEAD, as this technique has it. What a return would take was not asked.')
      : [...heightLines(answer), ...turnLines(answer), ...flawlessLines(answer)]),
    '',
  ];
}

function heightLines(answer: PlanAnswer): string[] {
  const { lowestReturnFt, spread, scan } = answer;
  if (lowestReturnFt === null)
    return entry(
      'At every height',
      `LAND AHEAD: no return was found from ${ft(scan.fromFt)} to ${ft(scan.toFt)}, not even flown without error.`,
    );
  if (spread === null)
    return [
      ...entry(`Below ${ft(upTo10(lowestReturnFt))}`, 'LAND AHEAD.'),
      ...entry('Above that', 'a flawless return just works. What errors cost was not asked: plan higher.'),
    ];
  if (spread.draws < LEAST_DRAWS)
    return entry(
      'At every height',
      `LAND AHEAD: too few draws to tell. It takes ${LEAST_DRAWS} at a height, even if all end well; there were ${thousands(spread.draws)}.`,
    );
  const counted = countedOn(answer);
  if (counted === null) {
    const best = spread.heights.reduce((a, b) => (b.endsWell.low > a.endsWell.low ? b : a));
    return entry(
      'At every height',
      `LAND AHEAD: with ordinary errors no height tried is sure to end well 95 times in 100. Best is ${shareAt(best)}: not counted on.`,
    );
  }
  const { fromFt, toFt, above } = counted;
  const band = fromFt === toFt ? `At ${ft(fromFt)}` : `${ft(fromFt)} to ${ft(toFt)}`;
  const limit = above === null ? '; not tried above' : '';
  return [
    ...entry(`Below ${ft(fromFt)}`, 'LAND AHEAD.'),
    ...entry(band, `a return ends well 95 times in 100 with ordinary errors${limit}.`),
    ...(above === null ? [] : entry(`Above ${ft(toFt)}`, `not counted on: ${whatGoesWrong(above)}.`)),
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

function whatGoesWrong(height: SpreadAtHeight): string {
  if (isSure(height)) return `flown without error, not every height up to ${ft(height.heightFt)} works`;
  const wrong = Object.keys(WRONG) as (keyof typeof WRONG)[];
  const worst = wrong.reduce((a, b) => (height.outcomes[b] > height.outcomes[a] ? b : a));
  return `${shareAt(height)}; most often ${WRONG[worst]}`;
}

function turnLines({ bestTurn, turns, lowestReturnFt }: PlanAnswer): string[] {
  if (!turns.matters) return entry('Turn', 'left or right: in this wind both are alike.');
  const other = bestTurn === 'left' ? 'right' : 'left';
  return entry('Turn', `${bestTurn.toUpperCase()}. ${wrongSide(turns[bestTurn], turns[other], lowestReturnFt, other)}`);
}

function wrongSide(planned: TurnSide, other: TurnSide, lowestReturnFt: number | null, name: string): string {
  const hadFt = planned.lowestReturnFt ?? lowestReturnFt;
  if (hadFt === null) return `To the ${name} no return was found either.`;
  if (other.lowestReturnFt === null) return `To the ${name} no return was found at any height.`;
  const moreFt = other.lowestReturnFt - hadFt;
  if (moreFt < 0) return `CAUTION: to the ${name} it works from ${ft(downTo10(-moreFt))} lower.`;
  return `To the ${name} it needs ${ft(upTo10(moreFt))} more height.`;
}

function flawlessLines({ returnWindows }: Plan): string[] {
  const stops = returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  if (stops.length === 0) return [];
  const heights = stops.map(({ fromFt, toFt, toIsScanEnd }) =>
    toIsScanEnd ? `from ${ft(upTo10(fromFt))} up` : `${ft(upTo10(fromFt))} to ${ft(downTo10(toFt))}`,
  );
  return entry('Flown without error', `${heights.join(', ')}: bare edges, nothing in hand.`);
}
