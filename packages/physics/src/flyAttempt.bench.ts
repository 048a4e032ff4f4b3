// The search for the best aim against one flight to the aim it finds.
import { readFileSync } from 'node:fs';
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { type FlyRequest, flyAttempt } from './index.js';

const request = JSON.parse(
  readFileSync(new URL('../../../fixtures/requests/reference-1000ft.json', import.meta.url), 'utf8'),
) as FlyRequest;

export default function aimSearch(): Ratio[] {
  // The file leaves to the reader of requests what is usual.
  const technique = { ...request.technique, gearDownHeightFt: 200, flapDownHeightFt: null };
  const searching: FlyRequest = { ...request, technique };
  const straightThere: FlyRequest = { ...request, technique: { ...technique, turn: flyAttempt(searching).turn } };
  return [
    {
      name: 'one attempt with its aim searched on both sides / one flight to a given aim',
      ratio: timeRatio(
        () => flyAttempt(searching).touchdown.alongFt,
        () => flyAttempt(straightThere, { aimFt: 3500 }).touchdown.alongFt,
      ),
      goal: 60,
      better: 'lower',
    },
  ];
}
