// The schemas and the physics state the same ranges: what a schema lets through at a bound, the physics takes at that bound.
import { checkFlyRequest, type FlyRequest as PhysicsRequest } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { FlyRequest, jsonSchemaOf } from './index.js';
import { referenceRequest } from './referenceRequest.fixture.js';

interface Node {
  type?: string;
  minimum?: number;
  maximum?: number;
  properties?: Record<string, Node>;
  items?: Node;
  anyOf?: Node[];
}

/** Every number in a fly request with its bounds, by path; of a list, its first entry. */
function bounded(node: Node, path: readonly string[] = []): { path: readonly string[]; bounds: [number, number] }[] {
  if (node.anyOf) return node.anyOf.flatMap((inner) => bounded(inner, path));
  if (node.properties) return Object.entries(node.properties).flatMap(([key, inner]) => bounded(inner, [...path, key]));
  if (node.items) return bounded(node.items, [...path, '0']);
  if (node.minimum === undefined || node.maximum === undefined) return [];
  return [{ path, bounds: [node.minimum, node.maximum] }];
}

function requestWith(path: readonly string[], value: number): PhysicsRequest {
  const request = JSON.parse(JSON.stringify(referenceRequest)) as Record<string, unknown>;
  (request.weather as { winds: unknown[] }).winds = [{ heightFt: 33, fromTrueDeg: 90, speedKt: 10 }];
  (request.failure as { powerChanges: unknown[] }).powerChanges = [{ atS: 2, powerFraction: 0.5 }];
  const { start: _, ...other } = request.runway as Record<string, unknown>;
  const { name, lengthFt, widthFt, headingTrueDeg, surface } = other;
  (request.runway as { others: unknown[] }).others = [
    { name, lengthFt, widthFt, headingTrueDeg, surface, startAlongFt: 500, startAcrossFt: 800 },
  ];
  let at = request;
  for (const key of path.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[path.at(-1) as string] = value;
  return request as unknown as PhysicsRequest;
}

const NUMBERS = bounded(jsonSchemaOf('fly-request') as Node).filter(({ path }) => !path.includes('start'));

test('the request has the numbers that are held against the physics', () => {
  expect(NUMBERS.length).toBeGreaterThan(35);
});

test.each(NUMBERS.map(({ path, bounds }) => ({ name: path.join('.'), path, bounds })))(
  '$name: neither bound of the schema is outside the range of the physics',
  ({ path, bounds }) => {
    const own = path.join('.').replace(/\.(\d+)\b/g, '[$1]');
    for (const value of bounds) {
      const request = requestWith(path, value);
      expect(FlyRequest.safeParse(request).success, `${own} ${value}`).toBe(true);
      let refusal = '';
      try {
        checkFlyRequest(request);
      } catch (error) {
        refusal = (error as Error).message;
      }
      // A bound may contradict another figure of this aeroplane (a stall above its best glide): the message says which.
      const range = new RegExp(
        `^${own.replace(/[.[\]]/g, '\\$&')} must be (\\S+) to (\\S+) ?(kg|m²|m|ft|kt|°|°/s|s|hPa|°C|ft/min|ft above the runway|%|)?, got`,
      );
      expect(range.exec(refusal)?.[0] ?? '').toBe('');
    }
  },
);
