// Fields of NMEA 0183 sentences as numbers; an empty one is missing, an unreadable one is named and missing too.
import type { Refusal } from '../standards.js';

const NUMBER = /^[+-]?(\d{1,12}\.?\d{0,12}|\.\d{1,12})$/;
const ANGLE = /^(\d{1,3})(\d{2}(?:\.\d{0,12})?)$/;
const TIME = /^(\d{2})(\d{2})(\d{2}(?:\.\d{0,9})?)$/;
const DATE = /^(\d{2})(\d{2})(\d{2})$/;
const MS_PER_DAY = 86_400_000;
/** Two-digit years from this one on belong to the 1900s: the standard is no older. Common practice, no source. */
const FIRST_YEAR = 80;

export interface FieldReader {
  /** Any number; `unit` is the number of the field that must hold the letter, where the sentence has one. */
  number(name: string, index: number, unit?: readonly [index: number, letter: string]): number | undefined;
  /** Degrees and minutes run together (dddmm.mm), and the hemisphere's letter after them; north and east positive. */
  angleDeg(name: string, index: number, hemispheres: 'NS' | 'EW'): number | undefined;
  /** Since midnight UTC, from hhmmss.ss; a leap second reaches 86 400. */
  timeOfDayS(index: number): number | undefined;
  /** Days since 1 January 1970, from ddmmyy. */
  day(index: number): number | undefined;
  letter(index: number): string;
}

/** Reads fields by number, from 0 after the address; what cannot be read is appended to `refused`. */
export function fieldReader(kind: string, fields: readonly string[], refused: Refusal[]): FieldReader {
  const text = (index: number) => (fields[index] ?? '').trim();
  const bad = (field: string) => {
    refused.push({ reason: 'field', kind, field });
    return undefined;
  };

  return {
    letter: text,
    number(name, index, unit) {
      if (text(index) === '') return undefined;
      if (!NUMBER.test(text(index)) || (unit !== undefined && text(unit[0]) !== unit[1])) return bad(name);
      return Number(text(index));
    },
    angleDeg(name, index, hemispheres) {
      const side = text(index + 1);
      if (text(index) === '') return undefined;
      const parts = ANGLE.exec(text(index));
      const minutes = Number(parts?.[2]);
      const sign = side === hemispheres[0] ? 1 : -1;
      const degrees = Number(parts?.[1]) + minutes / 60;
      const highest = hemispheres === 'NS' ? 90 : 180;
      // Senders that round up write 60 minutes.
      if (side.length !== 1 || !hemispheres.includes(side) || !(minutes <= 60) || !(degrees <= highest))
        return bad(name);
      return sign * degrees;
    },
    timeOfDayS(index) {
      if (text(index) === '') return undefined;
      const [, hours, minutes, seconds] = (TIME.exec(text(index)) ?? []).map(Number);
      if (!((hours ?? 24) < 24 && (minutes ?? 60) < 60 && (seconds ?? 61) < 61)) return bad('timeOfDayS');
      return (hours ?? 0) * 3600 + (minutes ?? 0) * 60 + (seconds ?? 0);
    },
    day(index) {
      if (text(index) === '') return undefined;
      const [, day = 0, month = 0, year = 0] = (DATE.exec(text(index)) ?? []).map(Number);
      const date = new Date(Date.UTC((year < FIRST_YEAR ? 2000 : 1900) + year, month - 1, day));
      if (date.getUTCDate() !== day || date.getUTCMonth() !== month - 1) return bad('day');
      return date.getTime() / MS_PER_DAY;
    },
  };
}
