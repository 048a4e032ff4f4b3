// GET /api/stations and POST /api/stations/:station/commands: who is there, and having one of them do something.
import {
  ApiError,
  bundleOf,
  type Catalogue,
  Station,
  StationAnswer,
  type StationCommand,
  StationRequest,
} from '@stillprop/contracts';
import { z } from 'zod';
import { ApiFailure } from '../apiFailure.js';
import type { StationHub } from '../stationHub.js';
import type { Routes } from '../zodTypes.js';

/** A link profile of 256 slots is the longest command. */
const COMMAND_BYTES = 128 * 1024;

export const stationRoutes: Routes<{ catalogue: Catalogue; hub: StationHub }> = async (app, { catalogue, hub }) => {
  app.get('/stations', { schema: { response: { 200: z.array(Station) } } }, async () => hub.stations());
  app.post(
    '/stations/:station/commands',
    {
      bodyLimit: COMMAND_BYTES,
      schema: {
        params: z.strictObject({ station: z.string() }),
        body: StationRequest,
        response: { 200: StationAnswer, '4xx': ApiError, '5xx': ApiError },
      },
    },
    async ({ params, body }) => hub.ask(params.station, commandOf(catalogue, body)),
  );
};

/** The command as the bridge takes it: with the whole scenario in place of its name. */
function commandOf(catalogue: Catalogue, request: StationRequest): StationCommand {
  if (request.command !== 'arm' && request.command !== 'begin') return request;
  const found = bundleOf(catalogue, request.scenarioId);
  if (!found.ok) throw new ApiFailure('SCENARIO_UNKNOWN', found.problem.message);
  if (request.command === 'begin') return request;
  const { scenarioId: _, ...rest } = request;
  return { ...rest, bundle: found.value };
}
