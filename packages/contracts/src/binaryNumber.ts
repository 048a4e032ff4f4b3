// Numbers as they stand in binary messages.
import { z } from 'zod';

/** Width in bytes of each kind of number. */
export const BINARY_WIDTHS = {
  uint8: 1,
  int8: 1,
  uint16: 2,
  int16: 2,
  uint32: 4,
  int32: 4,
  uint64: 8,
  int64: 8,
  float32: 4,
  float64: 8,
} as const;

export const BinaryNumber = z.enum(
  Object.keys(BINARY_WIDTHS) as [keyof typeof BINARY_WIDTHS],
  'must be uint8, int8, uint16, int16, uint32, int32, uint64, int64, float32 or float64',
);
export type BinaryNumber = keyof typeof BINARY_WIDTHS;

/** No message is longer than this. */
const LARGEST_OFFSET = 16_383;
export const byteOffset = z
  .int('must be a whole number of bytes')
  .min(0, `must be 0 to ${LARGEST_OFFSET}`)
  .max(LARGEST_OFFSET, `must be 0 to ${LARGEST_OFFSET}`);
export const hexBytes = z
  .string('must be text')
  .regex(
    /^([0-9a-fA-F]{2})( ?[0-9a-fA-F]{2}){0,511}$/,
    'must be 1 to 512 bytes, each as two hexadecimal digits, such as "4e 41 00"',
  );
