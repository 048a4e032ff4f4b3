// Which way to turn, and what the other way costs, in words.
import type { TurnSide } from '@stillprop/physics';
import { downTo10, entry, ft, upTo10 } from '../sheet.js';
import type { PlanAnswer } from './planAnswer.js';
import { isScanStart } from './planWindows.js';

export function turnLines(answer: PlanAnswer): string[] {
  const { bestTurn, turns } = answer;
  if (!turns.matters) return entry('Turn', 'left or right: in this wind both are alike.');
  const other = bestTurn === 'left' ? 'right' : 'left';
  return entry('Turn', `${bestTurn.toUpperCase()}. ${wrongSide(turns[bestTurn], turns[other], answer, other)}`);
}

function wrongSide(planned: TurnSide, other: TurnSide, answer: PlanAnswer, name: string): string {
  const hadFt = planned.lowestReturnFt ?? answer.lowestReturnFt;
  if (hadFt === null) return `To the ${name} no return was found either.`;
  if (other.lowestReturnFt === null) return `To the ${name} no return was found at any height.`;
  const moreFt = other.lowestReturnFt - hadFt;
  if (moreFt === 0) return `To the ${name} it works from as low.`;
  // What lies below the beginning of the scan was not asked: there is no difference to tell.
  if (isScanStart(hadFt, answer)) return `To the ${name} it works from ${ft(upTo10(other.lowestReturnFt))}.`;
  if (moreFt < 0) return `CAUTION: to the ${name} it works from ${ft(downTo10(-moreFt))} lower.`;
  return `To the ${name} it needs ${ft(upTo10(moreFt))} more height.`;
}
