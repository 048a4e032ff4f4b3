// JSON Schemas of the files people write by hand, for editors that check while typing.
import { z } from 'zod';
import { Aircraft } from './aircraft.js';
import { FlyRequest } from './flyRequest.js';
import { LinkProfile } from './linkProfile.js';
import { PlanRequest } from './planRequest.js';
import { RoomFile } from './roomFile.js';
import { Rubric } from './rubric.js';
import { Runway } from './runway.js';
import { Scenario, ScenarioBundle } from './scenario.js';
import { Technique } from './technique.js';
import { Weather } from './weather.js';

/** Schema by file kind; each kind is also the name used by `stillprop schema KIND`. */
export const FILE_SCHEMAS = {
  aircraft: Aircraft,
  runway: Runway,
  weather: Weather,
  technique: Technique,
  rubric: Rubric,
  scenario: Scenario,
  'scenario-bundle': ScenarioBundle,
  'link-profile': LinkProfile,
  room: RoomFile,
  'fly-request': FlyRequest,
  'plan-request': PlanRequest,
} as const;
export type FileKind = keyof typeof FILE_SCHEMAS;

/** JSON Schema (draft 2020-12) of what may be written in a file of that kind: fields with a default may be left out. */
export function jsonSchemaOf(kind: FileKind): object {
  return z.toJSONSchema(FILE_SCHEMAS[kind], { io: 'input', unrepresentable: 'any' });
}
