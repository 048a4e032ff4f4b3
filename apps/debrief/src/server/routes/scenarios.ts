// GET /api/scenarios and /api/scenarios/:id: what can be flown, and one scenario with all it names.
import { ApiError, bundleOf, type Catalogue, ScenarioBundle, ScenarioChoice } from '@stillprop/contracts';
import { z } from 'zod';
import { ApiFailure } from '../apiFailure.js';
import type { Routes } from '../zodTypes.js';

export const scenarioRoutes: Routes<{ catalogue: Catalogue }> = async (app, { catalogue }) => {
  app.get('/scenarios', { schema: { response: { 200: z.array(ScenarioChoice) } } }, async () =>
    [...catalogue.scenarios.keys()].map((id) => {
      const { scenario, aircraft, runway } = bundle(catalogue, id);
      const { revision, name, briefing } = scenario;
      return { id, revision, name, briefing, aircraftName: aircraft.name, runwayName: runway.name };
    }),
  );
  app.get(
    '/scenarios/:id',
    { schema: { params: z.strictObject({ id: z.string() }), response: { 200: ScenarioBundle, '4xx': ApiError } } },
    async ({ params }) => bundle(catalogue, params.id),
  );
};

function bundle(catalogue: Catalogue, id: string): ScenarioBundle {
  const found = bundleOf(catalogue, id);
  if (!found.ok) throw new ApiFailure('SCENARIO_NOT_FOUND', found.problem.message);
  return found.value;
}
