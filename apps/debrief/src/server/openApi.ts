// The OpenAPI 3.1 document of the routes, made from the zod schemas that check them.
import swagger, { type SwaggerTransform } from '@fastify/swagger';
import type { FastifyInstance, FastifySchema } from 'fastify';
import { z } from 'zod';

/** Register before the routes. */
export function describeRoutes(app: FastifyInstance): void {
  app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Stillprop debrief server',
        description:
          'Stations, recordings and scores of simulated engine failures. For practice in a simulator only. ' +
          'Websockets, not described here: /ws/bridge for stations, /ws/live for pages.',
        version: '1',
      },
    },
    convertConstToEnum: false,
    transform: jsonSchemas,
  });
  app.get('/api/openapi.json', { schema: { hide: true } }, async (_, reply) =>
    reply.type('application/json').send(JSON.stringify(app.swagger())),
  );
}

const jsonSchemas: SwaggerTransform = ({ schema, url }) => {
  const described: Record<string, unknown> = { ...schema };
  for (const part of ['body', 'querystring', 'params', 'headers'] as const) {
    if (schema?.[part] instanceof z.ZodType) described[part] = jsonSchema(schema[part], 'input');
  }
  const answers = (schema?.response ?? {}) as Record<string, unknown>;
  described.response = Object.fromEntries(
    Object.entries(answers).map(([status, answer]) => [
      status,
      answer instanceof z.ZodType ? jsonSchema(answer, 'output') : answer,
    ]),
  );
  return { schema: described as FastifySchema, url };
};

function jsonSchema(schema: z.ZodType, io: 'input' | 'output') {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any' });
  return rest;
}
