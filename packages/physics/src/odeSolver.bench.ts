// One flight of the model against the same equations in a general-purpose ODE solver, both within 1 ft at touchdown.
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { flyAim } from './aim.js';
import { STEP_S } from './attempt.js';
import { flyByOdeSolver } from './odeFlight.fixture.js';
import { requestR } from './reference.fixture.js';
import { buildScene } from './scene.js';
import { X } from './state.js';
import { M_PER_FT } from './units.js';

/** Loose enough for the solver to be no more exact than the model: checked before anything is timed. */
const TOLERANCE = 1e-5;

export default function againstOdeSolver(): Ratio[] {
  const scene = buildScene(requestR({ technique: { turn: 'left' } }), undefined);
  const aim = { side: -1, aimM: 5000 * M_PER_FT } as const;
  const byModel = () => flyAim(scene, aim, STEP_S).flown.contact[X] as number;
  const bySolver = (tolerance: number) => flyByOdeSolver(scene, aim, tolerance).contact[X] as number;
  const exact = bySolver(1e-11);
  for (const found of [byModel(), bySolver(TOLERANCE)])
    if (Math.abs(found - exact) > M_PER_FT) throw new Error(`a flight ended ${Math.abs(found - exact)} m off`);
  return [
    {
      name: 'flights a second, the model / a general-purpose ODE solver at equal accuracy',
      ratio: timeRatio(() => bySolver(TOLERANCE), byModel),
      goal: 20,
      better: 'higher',
    },
  ];
}
