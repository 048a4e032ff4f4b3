// Sentences and rows that tell how flights with ordinary errors ended.
import { figure, plainNumber } from '@stillprop/charts';
import { OUTCOMES, type Share, type SpreadCounts, wilson } from '@stillprop/physics';
import { type Moment, PILOT_ERRORS } from './pilotErrors.js';
import { OUTCOME_WORDS } from './words.js';

/** Where it ended that counts as down on the airfield, the runway included. */
const ON_AIRFIELD: readonly string[] = ['stopped-on-runway', 'overrun', 'on-airfield'];

/** As the planner has it: what may be counted on ends well so often even at the low end of the interval. */
const LEAST_SURE = 0.95;

/** `66.2 %`; never 0 or 100 unless it is none or all of them. */
export function percentWords({ count, of, share }: Pick<Share, 'count' | 'of' | 'share'>): string {
  const shown = count === 0 || count === of ? 100 * share : Math.min(99.9, Math.max(0.1, 100 * share));
  return figure(shown, '%', 1);
}

/** `65.3 % to 67.1 %`, rounded outwards: the interval shown holds the one computed. */
export function intervalWords({ low, high }: Pick<Share, 'low' | 'high'>): string {
  const tenths = (share: number, round: (value: number) => number) => round(Number((1000 * share).toFixed(6))) / 10;
  return `${figure(tenths(low, Math.floor), '%', 1)} to ${figure(tenths(high, Math.ceil), '%', 1)}`;
}

/** What stands first of the answer. */
export function resultWords(counts: SpreadCounts, { request }: Moment): { runway: string; airfield: string } {
  const row = counts.byHeight[0] ?? [];
  const shareOf = (outcomes: readonly string[]) =>
    wilson(
      OUTCOMES.reduce((sum, outcome, i) => sum + (outcomes.includes(outcome) ? (row[i] ?? 0) : 0), 0),
      counts.draws,
    );
  const runway = shareOf(['stopped-on-runway']);
  const airfield = shareOf(ON_AIRFIELD);
  const where = request.runway.others?.length ? 'a runway' : 'the runway';
  const sure = runway.low >= LEAST_SURE ? '' : ' Not to be counted on: that would take 95 in 100 at the low end.';
  return {
    runway: `${percentWords(runway)} of ${plainNumber(counts.draws)} flights come back and stop on ${where} (95\u00a0% interval ${intervalWords(runway)}).${sure}`,
    airfield: `${percentWords(airfield)} come down on the airfield, the runway counted (${intervalWords(airfield)}).`,
  };
}

/** Outcomes that occurred, in the order of `OUTCOMES`. */
export function outcomeRows(counts: SpreadCounts): { name: string; flights: string; share: string }[] {
  return OUTCOMES.flatMap((outcome, i) => {
    const count = counts.byHeight[0]?.[i] ?? 0;
    if (count === 0) return [];
    const { draws } = counts;
    return [
      {
        name: OUTCOME_WORDS[outcome],
        flights: plainNumber(count),
        share: percentWords({ count, of: draws, share: count / draws }),
      },
    ];
  });
}

/** How each quantity was spread, a line each. */
export function drawnWords({ request }: Moment): string[] {
  const { delayS, bankDeg, targetKcas } = request.technique;
  const { delayLogSd, bankSdDeg, speedSdKt } = PILOT_ERRORS;
  const seconds = (value: number) => figure(value, 's', 1);
  const within = `${seconds(delayS * Math.exp(-delayLogSd))} to ${seconds(delayS * Math.exp(delayLogSd))}`;
  return [
    `Delay: lognormal, median ${seconds(delayS)} as the technique has it; two of three within ${within}.`,
    `Bank: normal about ${figure(bankDeg, '°')}, standard deviation ${figure(bankSdDeg, '°')}.`,
    `Speed: normal about ${figure(targetKcas, 'kt')} calibrated, standard deviation ${figure(speedSdKt, 'kt')}.`,
    'As in this attempt: place, height, speed, heading and climb at the loss of power, the wind, the aeroplane, the propeller. No turbulence.',
  ];
}
