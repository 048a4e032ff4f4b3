// How far the optimised returns stay above the lowest that a free search over bank and speed finds.
import type { Ratio } from '../../../.tools/sideBySide.js';
import { freeReturn } from './freeSearch.fixture.js';
import { optimise } from './optimise.js';
import { requestR } from './reference.fixture.js';

const SEEDS = [1, 2, 3];
const GENERATIONS = 1_200;

export default function freeSearch(): Ratio[] {
  return [{}, { stallMargin: 1.1 }].map((technique) => {
    const request = requestR({ technique: { turn: 'left', ...technique } });
    const free = SEEDS.map((seed) => freeReturn(request, { side: -1, seed, generations: GENERATIONS }));
    const lowestFt = Math.min(
      ...free.filter(({ contact }) => contact.outcome === 'stopped-on-runway').map(({ heightFt }) => heightFt),
    );
    return {
      name: `lowest return of the guided search / of a free one, margin ${request.technique.stallMargin}`,
      ratio: (optimise(request)?.lowestReturnFt ?? Number.POSITIVE_INFINITY) / lowestFt,
      goal: 1.05,
      better: 'lower',
    };
  });
}
