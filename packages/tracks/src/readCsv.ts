// A CSV track log, read as a mapping says.
import type { Sample, TrackMapping } from '@stillprop/contracts';
import { channelUnit, slotFactor, unitsFor } from '@stillprop/links';
import Papa from 'papaparse';
import { PointCollector } from './collectPoints.js';
import { isoSeconds } from './isoSeconds.js';
import { refused, type TrackPoint, type TrackRead } from './trackLog.js';

interface Slot {
  readonly channel: keyof Sample;
  readonly index: number;
  readonly factor: number;
}

const MOST_ROWS = 600_000;

/**
 * An empty field leaves its channel out; a field that is no number, or a row without time, position or altitude, leaves
 * the row out. Rows are named by their number in the file, the header counted. Never throws.
 */
export function readCsv(text: string, mapping: TrackMapping): TrackRead {
  const rows = Papa.parse<string[]>(text, {
    delimiter: mapping.separator,
    preview: MOST_ROWS,
    skipEmptyLines: false,
  }).data;
  const headers = mapping.header ? (rows[0] ?? []).map((name) => name.trim()) : null;
  const timeIndex = columnIndex(mapping.time.column, headers);
  if (timeIndex === null) return noColumn(mapping.time.column, headers);
  const slots: Slot[] = [];
  for (const { channel, column, unit } of mapping.columns) {
    const index = columnIndex(column, headers);
    if (index === null) return noColumn(column, headers);
    const factor = slotFactor(unit, channel);
    if (factor === null)
      return refused(`${channel} must have one of the units ${unitsFor(channel).join(', ')}, got "${unit}"`);
    slots.push({ channel, index, factor });
  }
  const points = new PointCollector('line');
  for (const [i, row] of rows.entries()) {
    if (points.full) break;
    if ((i === 0 && headers !== null) || row.every((field) => field.trim() === '')) continue;
    addRow(points, i + 1, row, { mapping, timeIndex, slots });
  }
  return points.close('csv', mapping.altitudeFrom, mapping.time.as === 'iso' ? 0 : null);
}

interface Layout {
  readonly mapping: TrackMapping;
  readonly timeIndex: number;
  readonly slots: readonly Slot[];
}

function addRow(points: PointCollector, place: number, row: readonly string[], layout: Layout): void {
  const { mapping, timeIndex, slots } = layout;
  const timeField = row[timeIndex] ?? '';
  const clockS = mapping.time.as === 'iso' ? isoSeconds(timeField) : numberIn(timeField, mapping.decimal);
  if (clockS === null) {
    points.leaveOut(
      place,
      mapping.time.as === 'iso' ? 'it has no time like 2026-01-31T09:30:00Z' : 'its time is no number',
    );
    return;
  }
  const channels: Partial<Record<keyof Sample, number | boolean>> = {};
  for (const { channel, index, factor } of slots) {
    const field = row[index]?.trim() ?? '';
    if (field === '') continue;
    const value = numberIn(field, mapping.decimal);
    if (value === null) {
      points.leaveOut(place, `${channel} is no number`);
      return;
    }
    channels[channel] = channelUnit(channel) === 'bool' ? value !== 0 : value * factor;
  }
  const missing = (['latitudeDeg', 'longitudeDeg', 'altitudeFt'] as const).find((name) => channels[name] === undefined);
  if (missing !== undefined) {
    points.leaveOut(place, `${missing} is empty`);
    return;
  }
  points.add(place, clockS, channels as Omit<TrackPoint, 'timeS'>);
}

function columnIndex(column: string | number, headers: readonly string[] | null): number | null {
  if (typeof column === 'number') return headers === null || column <= headers.length ? column - 1 : null;
  const index = headers?.indexOf(column.trim()) ?? -1;
  return index < 0 ? null : index;
}

function noColumn(column: string | number, headers: readonly string[] | null): TrackRead {
  const there = (headers ?? []).slice(0, 12).join(', ').slice(0, 200);
  return refused(`the CSV file has no column ${JSON.stringify(column)}: it has ${there === '' ? 'none' : there}`);
}

function numberIn(field: string, decimal: '.' | ','): number | null {
  const plain = decimal === ',' ? field.trim().replace(',', '.') : field.trim();
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : null;
}
