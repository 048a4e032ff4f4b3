// The shape of text: JSON, names with values, or columns between separators; and the slots it has.
import { type Decoder, MOST_SLOTS } from '@stillprop/contracts';
import type { Slot } from '../readers.js';
import { fieldReader } from '../textLines.js';

export interface Shape {
  /** In words, to follow "It looks like". */
  readonly words: string;
  readonly decoder: Decoder;
  readonly slots: readonly Slot[];
}

const SEPARATORS = [';', '\t', ',', '|', ' '] as const;
const SEPARATOR_WORDS: Readonly<Record<string, string>> = {
  ';': 'semicolons',
  '\t': 'tabs',
  ',': 'commas',
  '|': 'upright bars',
  ' ': 'spaces',
  '&': 'ampersands',
};
const DECIMALS = ['.', ','] as const;
const NUMERIC_SHARE = 0.6;
const FEWEST_COLUMNS = 3;
const DEEPEST_JSON = 8;
/** A longer word is no name. */
const LONGEST_NAME = 64;
const LONGEST_PATH = 128;
const LONGEST_EXAMPLE = 40;

/** The shape of messages that are text; null: none that is known. Each text is one message. */
export function guessText(texts: readonly string[]): Shape | null {
  return jsonShape(texts) ?? keyValueShape(texts) ?? delimitedShape(texts);
}

function linesOf(text: string): string[] {
  return text.split(/\r\n|\n|\r/).filter((line) => line.trim() !== '');
}

function jsonShape(texts: readonly string[]): Shape | null {
  const objects = texts.flatMap((text) => {
    const whole = parsedObject(text);
    return whole === null ? linesOf(text).map(parsedObject) : [whole];
  });
  const good = objects.filter((object) => object !== null);
  if (good.length === 0 || good.length < NUMERIC_SHARE * objects.length) return null;
  const slots = new Set<string>();
  for (const object of good) addPaths(object, '', slots, 0);
  return { words: 'JSON', decoder: { kind: 'json' }, slots: [...slots] };
}

function parsedObject(text: string): object | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' ? value : null;
  } catch {
    return null;
  }
}

/** A key with a dot in it cannot be named in a path. */
function addPaths(value: object, before: string, paths: Set<string>, depth: number): void {
  for (const [key, inner] of Object.entries(value)) {
    if (key === '' || key.includes('.') || before.length + key.length > LONGEST_PATH) continue;
    if (paths.size >= MOST_SLOTS) return;
    if (typeof inner === 'number' || typeof inner === 'boolean') paths.add(before + key);
    else if (typeof inner === 'object' && inner !== null && depth < DEEPEST_JSON) {
      addPaths(inner, `${before}${key}.`, paths, depth + 1);
    }
  }
}

function keyValueShape(texts: readonly string[]): Shape | null {
  const messages = texts.map(linesOf);
  const lines = messages.flat();
  for (const keySeparator of ['=', ':']) {
    const several = SEPARATORS.filter((separator) => separator !== keySeparator)
      .concat('&' as never)
      .map((pairSeparator) => ({
        pairSeparator: pairSeparator as string,
        pairs: lines.map((line) => pairsOf(line, pairSeparator, keySeparator)),
      }))
      .map((one) => ({ ...one, count: one.pairs.reduce((sum, pairs) => sum + (pairs?.length ?? 0), 0) }))
      .filter(({ pairs }) => pairs.filter((each) => each !== null).length >= NUMERIC_SHARE * lines.length)
      .sort((a, b) => b.count - a.count)[0];
    if (several === undefined || several.count === 0) continue;
    const { pairSeparator } = several;
    const perLine = several.count / lines.length;
    const samplePer = perLine < 2 && messages.some((message) => message.length > 1) ? 'message' : 'line';
    if (perLine < 2 && samplePer === 'line') continue;
    const pairs = several.pairs.flatMap((each) => each ?? []);
    const decimal = decimalOf(pairs.map(([, value]) => value));
    const startsWith = prefixOf(lines, pairs, pairSeparator, keySeparator);
    const keys = new Set(
      pairs.map(([key]) =>
        startsWith !== undefined && key.startsWith(startsWith) ? key.slice(startsWith.length) : key,
      ),
    );
    const mark = decimal === ',' ? ', with a decimal comma' : '';
    return {
      words: `names with values, such as ${pairs[0]?.join(keySeparator).slice(0, LONGEST_EXAMPLE)}, between ${SEPARATOR_WORDS[pairSeparator]}${mark}`,
      decoder: {
        kind: 'keyValue',
        pairSeparator,
        keySeparator,
        decimal: pairSeparator.includes(decimal) ? '.' : decimal,
        samplePer,
        ...(startsWith === undefined ? {} : { startsWith }),
      },
      slots: [...keys].slice(0, MOST_SLOTS),
    };
  }
  return null;
}

/** The pairs of a line; null: it is no line of pairs. A first word without a value may stand before them. */
function pairsOf(line: string, pairSeparator: string, keySeparator: string): [string, string][] | null {
  const words = line.split(pairSeparator).filter((word) => word.trim() !== '');
  const pairs = words.flatMap((word): [string, string][] => {
    const cut = word.indexOf(keySeparator);
    if (cut < 0) return [];
    const key = word.slice(0, cut).trim();
    return /^[A-Za-z_][\w ./()[\]°%-]{0,63}$/.test(key) ? [[key, word.slice(cut + keySeparator.length)]] : [];
  });
  return pairs.length > 0 && pairs.length >= words.length - 1 ? pairs : null;
}

/** A word that stands before the first name of all lines, as in "STATE t=1;…". */
function prefixOf(
  lines: readonly string[],
  pairs: readonly [string, string][],
  pairSeparator: string,
  keySeparator: string,
): string | undefined {
  if (pairSeparator === ' ') return undefined;
  const [, prefix] = /^([A-Za-z0-9_]+[ :])/.exec(pairs[0]?.[0] ?? '') ?? [];
  if (prefix === undefined || lines.length < 2 || prefix.includes(keySeparator)) return undefined;
  return lines.every((line) => line.startsWith(prefix)) ? prefix : undefined;
}

/** A decimal comma where numbers have commas and none has a point. */
function decimalOf(values: readonly string[]): '.' | ',' {
  const texts = values.map((value) => value.trim());
  return texts.some((text) => /^[+-]?\d*,\d+$/.test(text)) && !texts.some((text) => /^[+-]?\d*\.\d+$/.test(text))
    ? ','
    : '.';
}

interface Columns {
  readonly separator: string;
  readonly decimal: '.' | ',';
  readonly repeats: boolean;
  readonly rows: readonly (readonly string[])[];
  readonly numericShare: number;
  readonly count: number;
}

function delimitedShape(texts: readonly string[]): Shape | null {
  const lines = texts.flatMap(linesOf);
  const best = SEPARATORS.flatMap((separator) =>
    DECIMALS.filter((decimal) => decimal !== separator).map((decimal) => columnsOf(lines, separator, decimal)),
  )
    .filter((one) => one.count >= FEWEST_COLUMNS && one.numericShare >= NUMERIC_SHARE)
    .sort((a, b) => b.numericShare - a.numericShare || b.count - a.count)[0];
  if (best === undefined) return null;
  const { separator, decimal, repeats, rows, count } = best;
  const names = headerOf(rows, decimal);
  const tag = names === null ? tagOf(rows, decimal) : undefined;
  const startsWith = tag === undefined ? undefined : tag + separator;
  const mark = decimal === ',' ? ', with a decimal comma' : '';
  const described = names === null ? '' : ', with a header line';
  return {
    words: `${count} columns between ${SEPARATOR_WORDS[separator]}${mark}${described}${tag === undefined ? '' : `, lines that begin with ${tag}`}`,
    decoder: {
      kind: 'delimited',
      separator,
      decimal,
      ...(repeats ? { repeats } : {}),
      ...(names === null ? {} : { header: true }),
      ...(startsWith === undefined ? {} : { startsWith }),
    },
    slots: (names ?? Array.from({ length: count }, (_, column) => column).slice(tag === undefined ? 0 : 1)).slice(
      0,
      MOST_SLOTS,
    ),
  };
}

function columnsOf(lines: readonly string[], separator: string, decimal: '.' | ','): Columns {
  const repeats = separator === ' ' && lines.some((line) => line.trim().includes('  '));
  const rows = lines.map((line) => {
    const fields = line.split(separator);
    return repeats ? fields.filter((field) => field !== '') : fields;
  });
  const filled = rows.flat().filter((field) => field.trim() !== '');
  const numeric = filled.filter((field) => isValue(field, decimal)).length;
  return {
    separator,
    decimal,
    repeats,
    rows,
    numericShare: filled.length === 0 ? 0 : numeric / filled.length,
    count: mostCommon(rows.map((row) => row.length)) ?? 0,
  };
}

function isValue(field: string, decimal: '.' | ','): boolean {
  return typeof fieldReader(decimal)(field) !== 'string';
}

/** Names of the columns, where one line holds names alone, each once, and others hold numbers. */
function headerOf(rows: readonly (readonly string[])[], decimal: '.' | ','): string[] | null {
  const names = rows
    .map((row) => row.map((field) => field.trim()))
    .find(
      (row) =>
        row.length >= FEWEST_COLUMNS &&
        row.every((field) => field.length <= LONGEST_NAME && /[A-Za-z]/.test(field) && !isValue(field, decimal)) &&
        new Set(row).size === row.length,
    );
  if (names === undefined) return null;
  return rows.some(
    (row) => row.length === names.length && row.some((field) => field.trim() !== '' && isValue(field, decimal)),
  )
    ? names
    : null;
}

/** The word that most lines begin with, where it is no number. */
function tagOf(rows: readonly (readonly string[])[], decimal: '.' | ','): string | undefined {
  const firsts = rows.map((row) => row[0] ?? '');
  const tag = mostCommon(firsts);
  if (tag === undefined || tag.trim() === '' || tag.length > LONGEST_NAME || isValue(tag, decimal)) return undefined;
  return tag;
}

function mostCommon<T>(values: readonly T[]): T | undefined {
  const counts = new Map<T, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0];
}
