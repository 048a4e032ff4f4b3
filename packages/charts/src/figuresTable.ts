// The figures behind the time charts as rows: at every event, and in even steps between.
import type { ScoreEvent, Trace } from '@stillprop/contracts';
import { roundLength } from './planFrame.js';
import { type TimeWindow, type TraceColumn, valueAt } from './traceAt.js';

export interface FigureRow {
  /** Seconds from the origin of the window. */
  readonly sinceS: number;
  readonly atS: number;
  /** What happened then; empty for a row in between. */
  readonly event: string;
  readonly values: Readonly<Record<TraceColumn, number | null>>;
}

const COLUMNS: readonly TraceColumn[] = [
  'heightFt',
  'indicatedAirspeedKt',
  'stallSpeedKt',
  'bankDeg',
  'verticalSpeedFpm',
  'loadFactor',
];
const ABOUT_ROWS = 15;

/** Rows in order of time, all within the window. */
export function figureRows(
  trace: Trace,
  events: readonly ScoreEvent[],
  { originS, fromS, toS }: TimeWindow,
): FigureRow[] {
  const stepS = Math.max(1, roundLength(((toS - fromS) / ABOUT_ROWS) * 1.5));
  const shown = events.filter(({ atS }) => atS >= fromS && atS <= toS);
  const first = Math.ceil((fromS - originS) / stepS);
  const last = Math.floor((toS - originS) / stepS);
  const steps = Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => originS + (first + i) * stepS);
  const moments = [
    ...shown.map(({ atS, text }) => ({ atS, event: text })),
    ...steps
      .filter((atS) => !shown.some((event) => Math.abs(event.atS - atS) < 0.05))
      .map((atS) => ({ atS, event: '' })),
  ].sort((a, b) => a.atS - b.atS);
  return moments.map(({ atS, event }) => ({
    sinceS: atS - originS,
    atS,
    event,
    values: Object.fromEntries(COLUMNS.map((column) => [column, valueAt(trace, column, atS)])) as FigureRow['values'],
  }));
}
