// The JSON Schema of a link profile explains itself: every field that a person writes says what it is for.
import { expect, test } from 'vitest';
import { jsonSchemaOf } from './index.js';

interface Node {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly oneOf?: readonly Node[];
  readonly anyOf?: readonly Node[];
  readonly items?: Node;
  readonly additionalProperties?: Node | boolean;
}

/** Paths of fields that say nothing about themselves. */
function silent(node: Node, path: string): string[] {
  const own = Object.entries(node.properties ?? {}).flatMap(([name, field]) => {
    const at = `${path}${name}`;
    // The kind of a union's one branch needs no words beside those of the union.
    const says = field.description !== undefined || 'const' in field;
    return [...(says ? [] : [at]), ...silent(field, `${at}.`)];
  });
  const { additionalProperties: more, items } = node;
  const lists = [...(node.oneOf ?? []), ...(node.anyOf ?? []), ...(items === undefined ? [] : [items])];
  const inside = [...lists, ...(typeof more === 'object' ? [more] : [])];
  return [...own, ...inside.flatMap((branch) => silent(branch, path))];
}

test('every field of a link profile is described in its JSON Schema', () => {
  const schema = jsonSchemaOf('link-profile') as Node;
  expect(Object.keys(schema.properties ?? {})).toContain('commandLatencyS');
  expect(silent(schema, '')).toEqual([]);
});

test('the schema names the signs, the channels of the engine check and the words put into commands', () => {
  const text = JSON.stringify(jsonSchemaOf('link-profile'));
  for (const word of ['right wing down', 'nose up', 'true', 'engineRpm', 'powerFraction', 'windmillingFine']) {
    expect(text).toContain(word);
  }
});
