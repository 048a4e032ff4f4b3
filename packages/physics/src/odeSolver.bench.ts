// Flights of the model against the same equations in a general-purpose ODE solver, set to be as exact and no more.
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { flyAim } from './aim.js';
import { STEP_S } from './attempt.js';
import { flyByOdeSolver } from './odeFlight.fixture.js';
import { requestR } from './reference.fixture.js';
import { buildScene } from './scene.js';
import { X, Y } from './state.js';
import type { Aim } from './steering.js';
import { M_PER_FT } from './units.js';

const AIMS: readonly Aim[] = [1500, 3000, 4000, 5000, 6000, 7000].map((aimFt) => ({
  side: -1,
  aimM: aimFt * M_PER_FT,
}));
/** What the solver may be set to: its tolerance, and the longest step after which it looks for an event (s). */
const TOLERANCES = [1e-3, 1e-4, 1e-5, 1e-6];
const LONGEST_STEPS_S = [0.25, 0.5, 1];

export default function againstOdeSolver(): Ratio[] {
  const scene = buildScene(requestR({ technique: { turn: 'left' } }), undefined);
  const exact = AIMS.map((aim) => flyByOdeSolver(scene, aim, 1e-11).contact);
  /** Farthest a touchdown lies from the exact one (m). */
  const worstM = (contactOf: (aim: Aim) => Float64Array) =>
    Math.max(
      ...AIMS.map((aim, i) => {
        const contact = contactOf(aim);
        const right = exact[i] as Float64Array;
        return Math.hypot(...[X, Y].map((at) => (contact[at] as number) - (right[at] as number)));
      }),
    );
  const flown = (aim: Aim) => flyAim(scene, aim, STEP_S).flown.contact;
  const modelM = worstM(flown);
  if (modelM > M_PER_FT) throw new Error(`a flight of the model ended ${modelM} m off`);
  // The fewest evaluations with which the solver is no less exact than the model.
  const fit = TOLERANCES.flatMap((tolerance) => LONGEST_STEPS_S.map((longestS) => ({ tolerance, longestS })))
    .filter(
      ({ tolerance, longestS }) => worstM((aim) => flyByOdeSolver(scene, aim, tolerance, longestS).contact) <= modelM,
    )
    .map((setting) => ({
      ...setting,
      evaluations: flyByOdeSolver(scene, AIMS[0] as Aim, setting.tolerance, setting.longestS).evaluations,
    }))
    .sort((a, b) => a.evaluations - b.evaluations)[0];
  if (fit === undefined) throw new Error(`no setting of the solver ended within ${modelM} m`);
  const { tolerance, longestS } = fit;
  return [
    {
      name: `flights a second, the model / a general-purpose ODE solver as exact (tolerance ${tolerance}, steps to ${longestS} s)`,
      ratio: timeRatio(
        () =>
          AIMS.reduce((sum, aim) => sum + (flyByOdeSolver(scene, aim, tolerance, longestS).contact[X] as number), 0),
        () => AIMS.reduce((sum, aim) => sum + (flown(aim)[X] as number), 0),
      ),
      goal: 20,
      better: 'higher',
    },
  ];
}
