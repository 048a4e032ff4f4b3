// Lines of delimited text as rows: columns by number from 0, by the names that the profile lists, or by a header line.

import type { DecodeCode } from './decode.js';
import { problem } from './problemAt.js';
import type { DecoderKind, Row, Slot } from './readers.js';
import { fieldReader, lineReader } from './textLines.js';

export const delimitedKind: DecoderKind<'delimited'> = {
  isText: true,
  problem: ({ separator, decimal, columns, header }) => {
    if (separator.includes(decimal)) {
      return problem('decoder.separator', `must differ from the decimal mark "${decimal}"`);
    }
    if (/[\r\n]/.test(separator)) return problem('decoder.separator', 'must not be a line break: lines are samples');
    if (header === true && columns !== undefined) {
      return problem('decoder.columns', 'must be left out where decoder.header is true: the header names the columns');
    }
    return null;
  },
  slotRule: ({ columns, header }, slot) => {
    if (header === true) return typeof slot === 'string' ? null : 'must be a name in the header line';
    if (typeof slot === 'string') {
      return columns?.includes(slot) ? null : 'must be a column number or a name in decoder.columns';
    }
    if (columns === undefined || slot < columns.length) return null;
    return `must be 0 to ${columns.length - 1}, a column in decoder.columns`;
  },
  reader: (decoder, slots) => {
    const { separator, repeats, header, columns, startsWith } = decoder;
    const linesOf = lineReader(header === true ? '' : startsWith);
    const valueIn = fieldReader(decoder.decimal);
    const fieldsOf = (line: string) => {
      const fields = line.split(separator);
      return repeats === true ? fields.filter((field) => field !== '') : fields;
    };
    let columnOf = header === true ? null : slots.map((slot) => columnNumber(slot, columns));
    const firstName = String(slots[0]);

    // The usual kind is read where it stands, without cutting it into texts first.
    const inPlace =
      columnOf === null || repeats === true ? null : rowInPlace(columnOf, separator, fieldReader(decoder.decimal));

    const rowOf = (line: string): Row | DecodeCode | null => {
      if (header === true && line.includes(firstName)) {
        const found = headerColumns(fieldsOf(line), slots);
        if (found !== null) {
          columnOf = found;
          return null;
        }
      }
      // Without a header line, others were left out before.
      if (header === true && startsWith !== undefined && !line.startsWith(startsWith)) return null;
      if (columnOf === null) return 'no-header';
      if (inPlace !== null) return inPlace(line);
      const fields = fieldsOf(line);
      return columnOf.map((column) => {
        const field = fields[column];
        return field === undefined ? undefined : valueIn(field);
      });
    };
    return (message) => {
      const lines = linesOf(message);
      if (lines === null) return ['not-text'];
      const rows: (Row | DecodeCode)[] = [];
      for (const line of lines) {
        const row = rowOf(line);
        if (row !== null) rows.push(row);
      }
      return rows;
    };
  },
};

/** Reads the fields of a line one after the other, and puts each into the places that ask for its column. */
function rowInPlace(
  columnOf: readonly number[],
  separator: string,
  valueIn: ReturnType<typeof fieldReader>,
): (line: string) => Row {
  const width = Math.max(-1, ...columnOf) + 1;
  const placesOf = Array.from({ length: width }, (_, column) =>
    columnOf.flatMap((asked, place) => (asked === column ? [place] : [])),
  );
  const endOf = separator.length === 1 ? endBefore(separator.charCodeAt(0)) : undefined;
  return (line) => {
    const row = new Array<unknown>(columnOf.length).fill(undefined);
    let from = 0;
    for (let column = 0; column < width && from <= line.length; column += 1) {
      const to = endOf === undefined ? endAt(line, separator, from) : endOf(line, from);
      const places = placesOf[column] as number[];
      for (let index = 0; index < places.length; index += 1) row[places[index] as number] = valueIn(line, from, to);
      from = to + separator.length;
    }
    return row;
  };
}

function endAt(line: string, separator: string, from: number): number {
  const found = line.indexOf(separator, from);
  return found < 0 ? line.length : found;
}

/** As {@link endAt}, for a separator of one character: fields are too short for a search to pay. */
function endBefore(code: number): (line: string, from: number) => number {
  return (line, from) => {
    let to = from;
    while (to < line.length && line.charCodeAt(to) !== code) to += 1;
    return to;
  };
}

function columnNumber(slot: Slot, columns: readonly string[] | undefined): number {
  return typeof slot === 'number' ? slot : (columns?.indexOf(slot) ?? -1);
}

/** Where each slot stands, if this line names them all; a repeated name is the first. */
function headerColumns(fields: readonly string[], slots: readonly Slot[]): number[] | null {
  const names = fields.map((field) => field.trim());
  const found = slots.map((slot) => names.indexOf(String(slot)));
  return found.includes(-1) ? null : found;
}
