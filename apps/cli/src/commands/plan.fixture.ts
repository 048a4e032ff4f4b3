// One plan that every test of the sheet reads: a fixture in wind, flown once, and the same plan with other shares.
import { readFileSync } from 'node:fs';
import { heightForShare, wilson } from '@stillprop/physics';
import { writtenDeparture } from '../departure.js';
import { planAnswer } from './plan.js';
import type { PlanAnswer } from './planAnswer.js';
import { planText } from './planText.js';

const departure = writtenDeparture(
  readFileSync(new URL('../../../../fixtures/requests/trainer-in-wind.json', import.meta.url), 'utf8'),
  'the fixture',
);
export const { request } = departure;
/** Threads run the build; tests read the source. */
export const ALONE = Number.POSITIVE_INFINITY;
export const answer = await planAnswer({ ...departure, questions: { draws: 20, toFt: 1500 } }, false, ALONE);
export const figure = (heightFt: number) => heightFt.toLocaleString('en-GB');

/** A plan of which so many of so many flights from 500, 600 … ft end well; the rest overruns. Without error all work. */
export const tried = (draws: number, ...good: number[]): PlanAnswer => {
  const [window] = answer.returnWindows;
  const [model] = answer.spread?.heights ?? [];
  if (answer.spread === null || model === undefined || window === undefined) throw new Error('no spread');
  const heights = good.map((count, index) => ({
    heightFt: 500 + 100 * index,
    outcomes: { ...model.outcomes, 'stopped-on-runway': count, overrun: draws - count },
    endsWell: wilson(count, draws),
  }));
  return {
    ...answer,
    lowestReturnFt: 400,
    returnWindows: [{ ...window, outcome: 'stopped-on-runway', fromFt: 400, toFt: 2_000 }],
    spread: {
      ...answer.spread,
      draws,
      heights,
      heightFor95: heightForShare(heights, 0.95),
      heightFor99: heightForShare(heights, 0.99),
    },
  };
};
export const told = (plan: PlanAnswer) => planText(request, plan).replaceAll(/\s+/g, ' ');
