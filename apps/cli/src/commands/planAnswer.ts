// All that `stillprop plan` answers: the plan, the trade of the climb speed, doubts about the numbers, and what it started from.
import type { ClimbTrade, FlyRequest, HandbookWarning, Plan } from '@stillprop/physics';
import type { RecordedFrom } from '../departure.js';

export interface PlanAnswer extends Plan {
  /** null from a recorded state, where the climb is past, and for a technique that lands ahead. */
  readonly climbs: ClimbTrade | null;
  readonly warnings: readonly HandbookWarning[];
  /** True: the technique given lands ahead, and from a recorded state a return to the better side is planned instead. */
  readonly plannedAsReturn?: true;
  /** Absent for a modelled climb. */
  readonly from?: RecordedFrom;
}

export interface PlanSheet {
  readonly request: FlyRequest;
  readonly answer: PlanAnswer;
}
