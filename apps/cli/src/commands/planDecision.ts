// The lines a pilot decides by: below which height ahead, between which heights a return is to be counted on, which way.
import type { Outcome, Plan, Spread, SpreadAtHeight, TurnSide } from '@stillprop/physics';
import { downTo10, entry, ft, percentDown, upTo10 } from '../sheet.js';
import type { PlanAnswer, PlanSheet } from './planAnswer.js';

/** Heights at which a return ends well 95 times in 100. */
export interface CountedOn {
  readonly fromFt: number;
  readonly toFt: number;
  /** First height tried above it at which it does not; null: none was tried. */
  readonly above: SpreadAtHeight | null;
}

const SHARE = 0.95;

/** The lowest run of heights tried at which the share holds; its upper end is the highest tried, not extended. */
export function countedOn({ heights, heightFor95 }: Spread): CountedOn | null {
  if (heightFor95.heightFt === null) return null;
  const first = heights.findIndex(({ endsWell }) => endsWell.share >= SHARE);
  let last = first;
  while ((heights[last + 1]?.endsWell.share ?? 0) >= SHARE) last++;
  return {
    fromFt: heightFor95.heightFt,
    toFt: (heights[last] as SpreadAtHeight).heightFt,
    above: heights[last + 1] ?? null,
  };
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
  const counted = countedOn(spread);
  if (counted === null) {
    const best = spread.heights.reduce((a, b) => (b.endsWell.share > a.endsWell.share ? b : a));
    return entry(
      'At every height',
      `LAND AHEAD: with ordinary errors no height tried ends well 95 times in 100. Best is ${percentDown(best.endsWell.share)} %, from ${ft(best.heightFt)}.`,
    );
  }
  const fromFt = upTo10(Math.max(counted.fromFt, lowestReturnFt));
  const toFt = Math.max(downTo10(counted.toFt), fromFt);
  const band = counted.above === null ? `From ${ft(fromFt)}` : `${ft(fromFt)} to ${ft(toFt)}`;
  const tried = counted.above === null ? ` (tried to ${ft(toFt)})` : '';
  return [
    ...entry(`Below ${ft(fromFt)}`, 'LAND AHEAD.'),
    ...entry(band, `a return ends well 95 times in 100 with ordinary errors${tried}.`),
    ...(counted.above === null ? [] : entry(`Above ${ft(toFt)}`, `not counted on: ${whatGoesWrong(counted.above)}.`)),
  ];
}

const WRONG: Record<Exclude<Outcome, 'stopped-on-runway'>, string> = {
  overrun: 'it touches the runway too far along to stop',
  'on-airfield': 'it comes down beside or beyond the runway',
  'off-airfield': 'it comes down outside the airfield',
  'wing-low-contact': 'it touches down with a wing low',
  stall: 'it stalls',
};

function whatGoesWrong({ heightFt, endsWell, outcomes }: SpreadAtHeight): string {
  const wrong = Object.keys(WRONG) as (keyof typeof WRONG)[];
  const worst = wrong.reduce((a, b) => (outcomes[b] > outcomes[a] ? b : a));
  return `${percentDown(endsWell.share)} % from ${ft(heightFt)}; most often ${WRONG[worst]}`;
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
