// Joins zod to fastify: a route's schemas give its types, check what comes in, and check what goes out.
import { parse } from '@stillprop/contracts';
import type { FastifyInstance, FastifyPluginAsync, FastifyTypeProvider, RawServerDefault } from 'fastify';
import type { z } from 'zod';
import { ApiFailure } from './apiFailure.js';

/** Falls back to unknown, never to never. */
export interface ZodTypes extends FastifyTypeProvider {
  validator: this['schema'] extends z.ZodType ? z.output<this['schema']> : unknown;
  serializer: this['schema'] extends z.ZodType ? z.input<this['schema']> : unknown;
}

/** A group of routes and what it needs. */
export type Routes<Deps extends object> = FastifyPluginAsync<Deps, RawServerDefault, ZodTypes>;

/** What a part of a request is called in a sentence about the whole of it. */
const PART_NAMES: Readonly<Record<string, string>> = {
  body: 'the body',
  querystring: 'the query',
  params: 'the path',
  headers: 'the headers',
};

export function useZod(app: FastifyInstance): void {
  app.setValidatorCompiler<z.ZodType>(({ schema, httpPart }) => (data: unknown) => {
    const parsed = parse(schema, data, PART_NAMES[httpPart ?? ''] ?? 'the request');
    return parsed.ok ? { value: parsed.value } : { error: new ApiFailure('BAD_REQUEST', parsed.problem.message) };
  });
  // An answer that breaks its own contract is our fault: it becomes a 500, never a wrong figure on a page.
  app.setSerializerCompiler<z.ZodType>(
    ({ schema }) =>
      (data) =>
        JSON.stringify(schema.parse(data)),
  );
}
