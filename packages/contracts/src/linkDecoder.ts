// How a message of a simulator reads: text, JSON, a binary layout, or one of the open standards.
import { z } from 'zod';
import { BinaryNumber, byteOffset, hexBytes } from './binaryNumber.js';

const separator = z.string('must be text').min(1).max(4);
const decimal = z
  .enum(['.', ','], 'must be "." or ","')
  .default('.')
  .describe('Decimal mark of the numbers; it must differ from the separator');
const startsWith = z
  .string('must be text')
  .optional()
  .describe('Lines that do not begin with this are passed over; absent: all are read');

export const DelimitedDecoder = z.strictObject({
  kind: z.literal('delimited').describe('One sample a line, its values between separators'),
  separator: separator.describe('What stands between two values, such as a comma or a semicolon'),
  repeats: z
    .boolean('must be true or false')
    .optional()
    .describe('true: several separators in a row count as one, as in columns padded with spaces'),
  decimal,
  columns: z
    .array(z.string('must be text'))
    .optional()
    .describe('Names of all columns in order, if slots are given by name'),
  header: z
    .boolean('must be true or false')
    .optional()
    .describe(
      'true: the simulator names its columns itself. The line that holds every name used as a slot is the header; lines before it are refused, and a later header takes its place',
    ),
  startsWith,
});
export type DelimitedDecoder = z.infer<typeof DelimitedDecoder>;

export const KeyValueDecoder = z.strictObject({
  kind: z.literal('keyValue').describe('Text of names with their values, such as alt=1200;ias=80'),
  pairSeparator: separator.describe('What stands between two pairs, such as a semicolon or a space'),
  keySeparator: separator.describe('What stands between a name and its value, such as ='),
  decimal,
  samplePer: z
    .enum(['line', 'message'], 'must be "line" or "message"')
    .optional()
    .describe(
      'line: each line is a sample of its own. message: all lines of a datagram or websocket message are one. Absent: line',
    ),
  startsWith,
});
export type KeyValueDecoder = z.infer<typeof KeyValueDecoder>;

export const JsonDecoder = z.strictObject({
  kind: z.literal('json').describe('One JSON object a datagram, or one a line'),
});

const littleEndian = z.boolean('must be true or false');
export const BinaryField = z.strictObject({
  name: z
    .string('must be text')
    .regex(/^[^\s/]{1,64}$/, 'must be 1 to 64 characters without spaces and slashes')
    .describe('Name by which a slot finds it'),
  offset: byteOffset.describe('Where it begins, in bytes from the start of the message or record'),
  type: BinaryNumber.describe('Kind of number'),
  littleEndian: littleEndian.optional().describe('Only where it differs from that of the decoder'),
});
export type BinaryField = z.infer<typeof BinaryField>;

export const BinaryDecoder = z.strictObject({
  kind: z.literal('binary').describe('Numbers at fixed places of a message'),
  match: z
    .array(
      z.strictObject({
        offset: byteOffset.describe('Where the bytes must stand, in bytes from the start of the message'),
        hex: hexBytes.optional().describe('The bytes, each as two hexadecimal digits'),
        text: z
          .string('must be text')
          .min(1)
          .max(64)
          .optional()
          .describe('Instead of hex: the bytes as text (UTF-8), such as a fixed prefix'),
      }),
    )
    .max(8)
    .default([])
    .describe('Bytes that tell this message from others: one that differs is passed over'),
  littleEndian: littleEndian
    .default(true)
    .describe('true: lowest byte first, as on most computers; false: highest first'),
  fields: z
    .array(BinaryField)
    .max(256)
    .default([])
    .describe('Numbers that stand once in a message; their names are slots'),
  records: z
    .strictObject({
      firstOffset: byteOffset.describe('Where the first record begins, in bytes'),
      lengthBytes: z
        .int('must be a whole number of bytes')
        .min(1, 'must be 1 to 4096')
        .max(4096, 'must be 1 to 4096')
        .describe('Length of one record; they follow each other to the end of the message'),
      index: z
        .strictObject({
          offset: byteOffset.describe('Where in the record the number stands that tells which one it is'),
          type: BinaryNumber.describe('Kind of number'),
          littleEndian: littleEndian.optional().describe('Only where it differs from that of the decoder'),
        })
        .describe('The number that tells records apart: a slot is "<index>/<name>", such as 17/pitch'),
      fields: z.array(BinaryField).min(1).max(256).describe('Numbers in each record, by offset from its start'),
    })
    .optional()
    .describe('Records of one length that repeat; absent: none'),
});
export type BinaryDecoder = z.infer<typeof BinaryDecoder>;

export const Gdl90Decoder = z.strictObject({
  kind: z.literal('gdl90').describe('GDL 90: ownship reports; slots are the names of its fields'),
});
export const Nmea0183Decoder = z.strictObject({
  kind: z
    .literal('nmea0183')
    .describe('NMEA 0183: sentences with position, track and speed; slots are names of fields'),
});
const whole16 = z.int('must be a whole number').min(0, 'must be 0 to 65535').max(65_535, 'must be 0 to 65535');
export const EntityStateDecoder = z.strictObject({
  kind: z.literal('entityState').describe('IEEE 1278.1 entity state; slots are the names of its fields'),
  entity: z
    .strictObject({
      site: whole16.describe('Site number of the entity'),
      application: whole16.describe('Application number of the entity'),
      entity: whole16.describe('Number of the entity'),
    })
    .optional()
    .describe('The one that is flown; others are passed over. Absent: the first that is heard'),
});
export type EntityStateDecoder = z.infer<typeof EntityStateDecoder>;
export const Mavlink2Decoder = z.strictObject({
  kind: z.literal('mavlink2').describe('MAVLink 2: attitude, global position and VFR HUD; slots are names of fields'),
  systemId: z
    .int('must be a whole number')
    .min(1, 'must be 1 to 255')
    .max(255, 'must be 1 to 255')
    .optional()
    .describe('System that is flown; others are passed over. Absent: the first that is heard'),
});
export type Mavlink2Decoder = z.infer<typeof Mavlink2Decoder>;

export const Decoder = z.discriminatedUnion('kind', [
  DelimitedDecoder,
  KeyValueDecoder,
  JsonDecoder,
  BinaryDecoder,
  Gdl90Decoder,
  Nmea0183Decoder,
  EntityStateDecoder,
  Mavlink2Decoder,
]);
export type Decoder = z.infer<typeof Decoder>;
export type DecoderOf<Kind extends Decoder['kind']> = Extract<Decoder, { kind: Kind }>;
