// Words for outcomes, alike in every command.
import type { FlyResult } from '@stillprop/physics';

/** Completes "by the model it …". */
export const OUTCOME_WORDS: Record<FlyResult['outcome'], string> = {
  'stopped-on-runway': 'lands on the runway and stops on it',
  overrun: 'lands on the runway but cannot stop before its end',
  'on-airfield': 'comes down inside the airfield, off the runway',
  'off-airfield': 'comes down outside the airfield',
  'wing-low-contact': 'touches the ground with more than 10° of bank',
  stall: 'stalls',
};
