// All that `stillprop plan` answers: the plan, the trade of the climb speed, doubts about the numbers, and what it started from.
import type { ClimbTrade, FlyRequest, HandbookWarning, Plan } from '@stillprop/physics';
import type { RecordedFrom } from '../departure.js';

export interface PlanAnswer extends Plan {
  /** null from a recorded state: the climb is past. */
  readonly climbs: ClimbTrade | null;
  readonly warnings: readonly HandbookWarning[];
  /** Absent for a modelled climb. */
  readonly from?: RecordedFrom;
}

export interface PlanSheet {
  readonly request: FlyRequest;
  readonly answer: PlanAnswer;
}
