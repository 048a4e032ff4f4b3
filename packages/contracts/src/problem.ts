// Turns a refused input into one sentence: which field, which value, what would be right.
import type { z } from 'zod';

const KINDS: Readonly<Record<string, string>> = {
  object: 'an object',
  array: 'a list',
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
};

/** Why an input was refused. */
export interface Problem {
  /** Path of the field, as in `aircraft.massKg`; the whole input's name when it is no single field. */
  readonly field: string;
  /** One sentence naming field, value and what would be right. */
  readonly message: string;
}

/** The first problem zod found, as one sentence; `whole` names the input itself. */
export function problemOf(error: z.ZodError, input: unknown, whole: string): Problem {
  const issue = deepest(error.issues[0] as z.core.$ZodIssue);
  const path = issue.path.map((key) => (typeof key === 'number' ? `[${key}]` : `.${String(key)}`)).join('');
  const inside = path.replace(/^\./, '');
  if (issue.code === 'unrecognized_keys') {
    const key = issue.keys[0] ?? '';
    const field = inside === '' ? key : `${inside}.${key}`;
    return { field, message: `${field} is not a field that ${inside === '' ? whole : inside} has` };
  }
  const value = valueAt(input, issue.path);
  const field = inside === '' ? whole : inside;
  if (value === undefined) return { field, message: `${field} is missing: it ${rule(issue)}` };
  return { field, message: `${field} ${rule(issue)}, got ${shown(value)}` };
}

/** A parsed value or its problem. */
export type Parsed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

/** Parses data with a schema; the only way outside data becomes typed data. */
export function parse<T extends z.ZodType>(schema: T, data: unknown, whole: string): Parsed<z.output<T>> {
  const parsed = schema.safeParse(data);
  return parsed.success
    ? { ok: true, value: parsed.data }
    : { ok: false, problem: problemOf(parsed.error, data, whole) };
}

/** Parses JSON text with a schema. */
export function parseJson<T extends z.ZodType>(schema: T, text: string, whole: string): Parsed<z.output<T>> {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    return { ok: false, problem: { field: whole, message: `${whole} is not JSON: ${(error as Error).message}` } };
  }
  return parse(schema, data, whole);
}

/** The schemas' own messages say what must be; zod's standard ones are put the same way. */
function rule(issue: z.core.$ZodIssue): string {
  if (/^must\b/.test(issue.message)) return issue.message;
  switch (issue.code) {
    case 'invalid_type':
      return `must be ${KINDS[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return `must be ${issue.values.map((value) => JSON.stringify(value)).join(' or ')}`;
    case 'too_small':
      return `must be at least ${issue.minimum}${ofWhat(issue.origin)}`;
    case 'too_big':
      return `must be at most ${issue.maximum}${ofWhat(issue.origin)}`;
    case 'invalid_union': {
      const { options } = issue as { readonly options?: readonly unknown[] };
      if (options !== undefined) return `must be ${options.map((option) => JSON.stringify(option)).join(' or ')}`;
      return 'must be one of the kinds there are';
    }
    default:
      return `must be right (${issue.message})`;
  }
}

function ofWhat(origin: string): string {
  if (origin === 'string') return ' characters long';
  return origin === 'array' ? ' entries long' : '';
}

/** Of a union that matched nowhere, the branch that came farthest says most. */
function deepest(issue: z.core.$ZodIssue): z.core.$ZodIssue {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return issue;
  const stated = /^must\b/.test(issue.message) && issue.errors.flat().every(({ path }) => path.length === 0);
  if (stated) return issue; // no branch came inside: the union's own words name them all
  const inner = issue.errors.flat().reduce((best, next) => (next.path.length > best.path.length ? next : best));
  return deepest({ ...inner, path: [...issue.path, ...inner.path] } as z.core.$ZodIssue);
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value = input;
  for (const key of path) value = (value as Record<PropertyKey, unknown> | null | undefined)?.[key];
  return value;
}

function shown(value: unknown): string {
  const text = (typeof value === 'number' ? undefined : jsonOf(value)) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** Of a value nested too deep to be written down its kind: parsing takes any depth, writing does not. */
function jsonOf(value: unknown): string | undefined {
  try {
    return JSON.stringify(value);
  } catch {
    return Array.isArray(value) ? 'a list nested too deep' : 'an object nested too deep';
  }
}
