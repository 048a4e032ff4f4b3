// Derivative evaluations of the model against the same formulas written out by hand in one flat loop.
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { turnLoops } from './turnLoop.fixture.js';

const STEPS = 300;

export default function derivatives(): Ratio[] {
  const { byModel, byFlatLoop } = turnLoops();
  return [
    {
      name: 'derivative evaluations a second, the model / one flat loop of the same formulas',
      ratio: timeRatio(
        () => byFlatLoop(STEPS)[2] as number,
        () => byModel(STEPS)[2] as number,
      ),
      goal: 0.8,
      better: 'higher',
    },
  ];
}
