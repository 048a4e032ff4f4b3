// The layout of binary messages of one length: records with an index, or numbers at offsets that behave like a flight's.
import { BINARY_WIDTHS, type BinaryNumber, MOST_SLOTS } from '@stillprop/contracts';
import { numberReader } from '../binaryNumbers.js';
import type { Shape } from './guessText.js';

interface Field {
  readonly name: string;
  readonly offset: number;
  readonly type: BinaryNumber;
}
interface Weighed {
  readonly fields: readonly Field[];
  readonly weight: number;
}

/** What a simulator sends lies between these, or is 0. Common practice, no source. */
const LEAST = 1e-7;
const MOST = 1e7;
const LARGEST_INDEX = 1000;
const MOST_MESSAGES = 64;
/** Longer messages are looked at so far: the search grows with length. */
const LONGEST_BYTES = 1024;
const PREFIX_BYTES = 4;
/** Two printable bytes may well be the high end of a number that hardly moves. */
const FEWEST_PREFIX_BYTES = 3;

/** Kinds that are tried, with what a byte of each is worth where it fits: whole numbers fit almost anything. */
const TRIED: readonly (readonly [BinaryNumber, number])[] = [
  ['float64', 1],
  ['float32', 1.01],
  ['int32', 0.5],
  ['int16', 0.3],
];

/** The layout of the messages of the commonest length; null: fewer than two are that long, or nothing in them moves. */
export function guessBinary(messages: readonly Uint8Array[]): Shape | null {
  const length = commonLength(messages);
  const views = messages
    .filter((message) => message.length === length)
    .slice(-MOST_MESSAGES)
    .map((message) => new DataView(message.buffer, message.byteOffset, message.byteLength));
  if (views.length < 2 || length < 4) return null;
  const match = prefixOf(views);
  return recordShape(views, match) ?? fieldShape(views, match);
}

function commonLength(messages: readonly Uint8Array[]): number {
  const counts = new Map<number, number>();
  for (const { length } of messages) counts.set(length, (counts.get(length) ?? 0) + 1);
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0] ?? 0;
}

interface Match {
  readonly offset: number;
  readonly text: string;
}

/** Printable characters that all messages begin with tell them from others. */
function prefixOf(views: readonly DataView[]): Match[] {
  let text = '';
  for (let at = 0; at < PREFIX_BYTES && at < (views[0]?.byteLength ?? 0); at += 1) {
    const byte = views[0]?.getUint8(at) ?? 0;
    if (byte < 0x21 || byte > 0x7e || !views.every((view) => view.getUint8(at) === byte)) break;
    text += String.fromCharCode(byte);
  }
  return text.length >= FEWEST_PREFIX_BYTES ? [{ offset: 0, text }] : [];
}

function fieldShape(views: readonly DataView[], match: Match[]): Shape | null {
  const from = match[0]?.text.length ?? 0;
  const lengthBytes = views[0]?.byteLength ?? 0;
  const series = views.map((view) => ({ view, start: 0 }));
  const [little, big] = [true, false].map((order) => bestFields([series], from, lengthBytes, order)) as [
    Weighed,
    Weighed,
  ];
  const littleEndian = little.weight >= big.weight;
  const { fields } = littleEndian ? little : big;
  if (fields.length === 0) return null;
  return {
    words: `binary messages of ${lengthBytes} bytes with ${fields.length} numbers that may mean something, ${orderWords(littleEndian)}`,
    decoder: { kind: 'binary', match, littleEndian, fields: fields.slice(0, MOST_SLOTS) },
    slots: fields.slice(0, MOST_SLOTS).map(({ name }) => name),
  };
}

function recordShape(views: readonly DataView[], match: Match[]): Shape | null {
  const length = views[0]?.byteLength ?? 0;
  for (const type of ['int32', 'uint16', 'uint8'] as const) {
    const width = BINARY_WIDTHS[type];
    for (let lengthBytes = width + 4; lengthBytes <= Math.min(64, length / 2); lengthBytes += 1) {
      for (let firstOffset = match[0]?.text.length ?? 0; firstOffset <= 32; firstOffset += 1) {
        if ((length - firstOffset) % lengthBytes !== 0 || (length - firstOffset) / lengthBytes < 2) continue;
        for (const littleEndian of [true, false]) {
          const shape = recordsAt(views, { match, type, lengthBytes, firstOffset, littleEndian });
          if (shape !== null) return shape;
        }
      }
    }
  }
  return null;
}

interface RecordGuess {
  readonly match: Match[];
  readonly type: BinaryNumber;
  readonly lengthBytes: number;
  readonly firstOffset: number;
  readonly littleEndian: boolean;
}

/** Records whose first number is small, steady and another in each, and whose other bytes are all numbers of a flight. */
function recordsAt(views: readonly DataView[], guess: RecordGuess): Shape | null {
  const { match, type, lengthBytes, firstOffset, littleEndian } = guess;
  const read = numberReader(type, littleEndian);
  const starts: number[] = [];
  const length = views[0]?.byteLength ?? 0;
  for (let start = firstOffset; start < length; start += lengthBytes) starts.push(start);
  const first = views[0] as DataView;
  const indices = starts.map((start) => read(first, start));
  const steady = views.every((view) => starts.every((start, at) => read(view, start) === indices[at]));
  const small = indices.every((index) => Number.isInteger(index) && index >= 0 && index <= LARGEST_INDEX);
  if (!steady || !small || new Set(indices).size !== indices.length) return null;
  const width = BINARY_WIDTHS[type];
  const series = starts.map((start) => views.map((view) => ({ view, start })));
  const kind = (['float32', 'float64'] as const)
    .filter((one) => (lengthBytes - width) % BINARY_WIDTHS[one] === 0)
    .map((one) => {
      const offsets: number[] = [];
      for (let offset = width; offset < lengthBytes; offset += BINARY_WIDTHS[one]) offsets.push(offset);
      const weights = offsets.flatMap((offset) => series.map((each) => weightOf(each, offset, one, littleEndian)));
      return { one, offsets, weights };
    })
    .filter(({ weights }) => weights.every((weight) => weight > 0) && weights.some((weight) => weight === 1))
    .sort((a, b) => meanOf(b.weights) - meanOf(a.weights))[0];
  if (kind === undefined) return null;
  const fields = kind.offsets.map((offset, at) => ({ name: `value${at + 1}`, offset, type: kind.one }));
  return {
    words: `binary messages of ${length} bytes: ${starts.length} records of ${lengthBytes} bytes, each with a number that tells which it is and ${fields.length} values (${kind.one}), ${orderWords(littleEndian)}`,
    decoder: {
      kind: 'binary',
      match,
      littleEndian,
      fields: [],
      records: { firstOffset, lengthBytes, index: { offset: 0, type }, fields },
    },
    slots: indices.flatMap((index) => fields.map(({ name }) => `${index}/${name}`)).slice(0, MOST_SLOTS),
  };
}

const orderWords = (littleEndian: boolean) => (littleEndian ? 'lowest byte first' : 'highest byte first');
const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

type Series = readonly { readonly view: DataView; readonly start: number }[];

/** The fields that, side by side, explain most bytes: best of all ways to lay numbers from each offset to the end. */
function bestFields(series: readonly Series[], from: number, lengthBytes: number, littleEndian: boolean): Weighed {
  const end = Math.min(lengthBytes, LONGEST_BYTES);
  const best: Weighed[] = new Array(end + 1).fill({ fields: [], weight: 0 });
  for (let offset = end - 1; offset >= from; offset -= 1) {
    let chosen = best[offset + 1] as Weighed;
    for (const [type, worth] of TRIED) {
      const width = BINARY_WIDTHS[type];
      if (offset + width > end) continue;
      const fit = meanOf(series.map((one) => weightOf(one, offset, type, littleEndian)));
      if (fit === 0) continue;
      const after = best[offset + width] as Weighed;
      const weight = fit * worth * width + after.weight;
      if (weight > chosen.weight) chosen = { weight, fields: [{ name: `at${offset}`, offset, type }, ...after.fields] };
    }
    best[offset] = chosen;
  }
  return best[from] ?? { fields: [], weight: 0 };
}

/** How much one kind of number at one place is like a value of a flight: 1 it moves smoothly, less where it rests; 0 not at all. */
function weightOf(series: Series, offset: number, type: BinaryNumber, littleEndian: boolean): number {
  const read = numberReader(type, littleEndian);
  const values = series.map(({ view, start }) => read(view, start + offset));
  if (!values.every((value) => value === 0 || (Math.abs(value) >= LEAST && Math.abs(value) <= MOST))) return 0;
  const lowest = Math.min(...values);
  const highest = Math.max(...values);
  const isFloat = type.startsWith('float');
  if (lowest === highest) return isFloat ? (lowest === 0 ? 0.1 : 0.5) : 0;
  if (values.length < 3) return 0.7;
  // A jumble of bytes jumps across its range from one message to the next; a value of a flight creeps.
  let way = 0;
  for (let at = 1; at < values.length; at += 1) way += Math.abs((values[at] as number) - (values[at - 1] as number));
  return way <= 0.2 * (values.length - 1) * (highest - lowest) || way <= 2 * (highest - lowest) ? 1 : 0;
}
