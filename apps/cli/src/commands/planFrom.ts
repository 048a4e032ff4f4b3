// What a plan from a recorded state says first: the height there was, the height needed, and what the return would have been.
import { entry, ft, thousands, wrap } from '../sheet.js';
import type { PlanSheet } from './planAnswer.js';
import { OUTCOME_WORDS } from './words.js';

export function fromLines({ answer }: PlanSheet): string[] {
  const { from, lowestReturnFt, flight, scan } = answer;
  if (from === undefined) return [];
  const { start } = from;
  const needed =
    lowestReturnFt === null
      ? `none from ${ft(scan.fromFt)} to ${ft(scan.toFt)} works`
      : `${ft(lowestReturnFt)}: ${difference(start.heightFt - lowestReturnFt)}`;
  return [
    ...wrap(`FROM THE STATE AT ${from.timeS.toFixed(1)} s of ${from.recording}`, 2),
    ...entry(
      'There were',
      `${ft(start.heightFt)}, ${thousands(start.ktas)} kt true, ${thousands(Math.abs(start.verticalSpeedFpm))} ft/min ${start.verticalSpeedFpm < 0 ? 'down' : 'up'}, ${thousands(Math.abs(start.bankDeg))}° bank, ${ft(start.alongFt)} from brake release`,
    ),
    ...entry('A return needed', `${needed}, flown without error.`),
    ...entry('From there', `by the model it ${OUTCOME_WORDS[flight.outcome]}.`),
    ...wrap('  Heights below are heights of this state: same place, speed and attitude. The delay counts from it.', 2),
    '',
  ];
}

function difference(spareFt: number): string {
  return spareFt < 0 ? `${ft(Math.ceil(-spareFt))} too few` : `${ft(Math.floor(spareFt))} to spare`;
}
