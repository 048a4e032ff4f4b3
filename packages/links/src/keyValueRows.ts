// Text of names with their values as rows: one a line, or one a message.
import { problem } from './problemAt.js';
import type { DecoderKind, Row } from './readers.js';
import { fieldReader, lineReader } from './textLines.js';

export const keyValueKind: DecoderKind<'keyValue'> = {
  isText: true,
  problem: ({ pairSeparator, keySeparator, decimal }) => {
    if (pairSeparator.includes(decimal)) {
      return problem('decoder.pairSeparator', `must differ from the decimal mark "${decimal}"`);
    }
    if (pairSeparator.includes(keySeparator) || keySeparator.includes(pairSeparator)) {
      return problem(
        'decoder.keySeparator',
        `must differ from pairSeparator "${pairSeparator}", got "${keySeparator}"`,
      );
    }
    if (/[\r\n]/.test(pairSeparator + keySeparator)) {
      return problem(
        'decoder.pairSeparator',
        'must not be a line break: where pairs stand in lines, give samplePer "message"',
      );
    }
    return null;
  },
  slotRule: ({ pairSeparator, keySeparator }, slot) => {
    const name = String(slot);
    return name.includes(pairSeparator) || name.includes(keySeparator) ? 'must be a name without the separators' : null;
  },
  reader: ({ pairSeparator, keySeparator, decimal, samplePer, startsWith }, slots) => {
    const linesOf = lineReader(startsWith);
    const valueIn = fieldReader(decimal);
    const prefix = startsWith?.length ?? 0;
    /** Which places of a row a name fills: a slot may serve two channels. */
    const places = new Map<string, number[]>();
    for (const [index, slot] of slots.entries()) {
      const name = String(slot);
      places.set(name, [...(places.get(name) ?? []), index]);
    }
    const emptyRow = () => new Array<unknown>(slots.length).fill(undefined);

    /** @returns Whether the pair's name is one that is read. */
    const take = (row: unknown[], pair: string): boolean => {
      const cut = pair.indexOf(keySeparator);
      const at = cut < 0 ? undefined : places.get(pair.slice(0, cut).trim());
      if (at === undefined) return false;
      const value = valueIn(pair.slice(cut + keySeparator.length));
      for (const index of at) row[index] = value;
      return true;
    };
    const fill = (row: unknown[], line: string) => {
      const pairs = line.split(pairSeparator);
      for (const [index, pair] of pairs.entries()) {
        // What all lines start with may stand before the first name, or be its beginning.
        if (!take(row, pair) && index === 0 && prefix > 0) take(row, pair.slice(prefix));
      }
    };
    return (message) => {
      const lines = linesOf(message);
      if (lines === null) return ['not-text'];
      if (samplePer !== 'message') {
        return lines.map((line): Row => {
          const row = emptyRow();
          fill(row, line);
          return row;
        });
      }
      if (lines.length === 0) return [];
      const row = emptyRow();
      for (const line of lines) fill(row, line);
      return [row];
    };
  },
};
