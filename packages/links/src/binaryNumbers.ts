// Reads and writes the numbers of binary messages.
import type { BinaryNumber } from '@stillprop/contracts';

const TWO_TO_32 = 2 ** 32;

/** Reads one kind of number at a byte offset. 64-bit whole numbers beyond 2^53 lose their last digits. */
export type NumberReader = (view: DataView, offset: number) => number;

/** The reader of one kind of number. The caller has seen to it that the bytes are there. */
export function numberReader(type: BinaryNumber, littleEndian: boolean): NumberReader {
  switch (type) {
    case 'uint8':
      return (view, offset) => view.getUint8(offset);
    case 'int8':
      return (view, offset) => view.getInt8(offset);
    case 'uint16':
      return (view, offset) => view.getUint16(offset, littleEndian);
    case 'int16':
      return (view, offset) => view.getInt16(offset, littleEndian);
    case 'uint32':
      return (view, offset) => view.getUint32(offset, littleEndian);
    case 'int32':
      return (view, offset) => view.getInt32(offset, littleEndian);
    case 'float32':
      return (view, offset) => view.getFloat32(offset, littleEndian);
    case 'float64':
      return (view, offset) => view.getFloat64(offset, littleEndian);
    case 'uint64':
    case 'int64': {
      const [low, high] = littleEndian ? [0, 4] : [4, 0];
      const signed = type === 'int64';
      return (view, offset) => {
        const top = signed ? view.getInt32(offset + high, littleEndian) : view.getUint32(offset + high, littleEndian);
        return top * TWO_TO_32 + view.getUint32(offset + low, littleEndian);
      };
    }
  }
}

/** Lowest and highest value of the whole-number kinds; the float kinds hold every share that a command needs. */
export const WHOLE_RANGES: Readonly<Partial<Record<BinaryNumber, readonly [lowest: number, highest: number]>>> = {
  uint8: [0, 2 ** 8 - 1],
  int8: [-(2 ** 7), 2 ** 7 - 1],
  uint16: [0, 2 ** 16 - 1],
  int16: [-(2 ** 15), 2 ** 15 - 1],
  uint32: [0, 2 ** 32 - 1],
  int32: [-(2 ** 31), 2 ** 31 - 1],
  uint64: [0, Number.MAX_SAFE_INTEGER],
  int64: [Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER],
};

/** Does a value, rounded where the kind is whole, fit into it? */
export function fits(value: number, type: BinaryNumber): boolean {
  const range = WHOLE_RANGES[type];
  if (range === undefined) return Number.isFinite(type === 'float32' ? Math.fround(value) : value);
  const rounded = Math.round(value);
  return rounded >= range[0] && rounded <= range[1];
}

type NumberWriter = (view: DataView, offset: number, value: number, littleEndian: boolean) => void;

const WRITERS: Readonly<Record<BinaryNumber, NumberWriter>> = {
  uint8: (view, offset, value) => view.setUint8(offset, Math.round(value)),
  int8: (view, offset, value) => view.setInt8(offset, Math.round(value)),
  uint16: (view, offset, value, littleEndian) => view.setUint16(offset, Math.round(value), littleEndian),
  int16: (view, offset, value, littleEndian) => view.setInt16(offset, Math.round(value), littleEndian),
  uint32: (view, offset, value, littleEndian) => view.setUint32(offset, Math.round(value), littleEndian),
  int32: (view, offset, value, littleEndian) => view.setInt32(offset, Math.round(value), littleEndian),
  uint64: (view, offset, value, littleEndian) => view.setBigUint64(offset, BigInt(Math.round(value)), littleEndian),
  int64: (view, offset, value, littleEndian) => view.setBigInt64(offset, BigInt(Math.round(value)), littleEndian),
  float32: (view, offset, value, littleEndian) => view.setFloat32(offset, value, littleEndian),
  float64: (view, offset, value, littleEndian) => view.setFloat64(offset, value, littleEndian),
};

/** Writes a number that {@link fits}; whole kinds are rounded. */
export function writeNumber(
  view: DataView,
  offset: number,
  value: number,
  { type, littleEndian }: { readonly type: BinaryNumber; readonly littleEndian: boolean },
): void {
  WRITERS[type](view, offset, value, littleEndian);
}

/** Bytes from pairs of hexadecimal digits, with or without spaces, as the schema of profiles lets them through. */
export function bytesOfHex(hex: string): Uint8Array<ArrayBuffer> {
  const digits = hex.replaceAll(' ', '');
  return Uint8Array.from({ length: digits.length / 2 }, (_, at) =>
    Number.parseInt(digits.slice(2 * at, 2 * at + 2), 16),
  );
}
