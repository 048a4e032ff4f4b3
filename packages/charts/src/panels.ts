// The four panels of the time charts: which columns they draw, their scales, target bands and limits.
import type { Score, Trace } from '@stillprop/contracts';
import { figure, plainNumber } from './figures.js';
import type { Ghost, GhostColumn } from './ghost.js';
import type { TimeWindow, TraceColumn } from './traceAt.js';

export interface PanelLine {
  readonly column: TraceColumn;
  /** Direct label; null: the panel's title says it. */
  readonly label: string | null;
  readonly colour: 'ink' | 'alarm';
  readonly dash: readonly number[];
}
export interface PanelBand {
  readonly fromS: number;
  readonly toS: number;
  readonly from: number;
  readonly to: number;
  readonly label: string;
}
export interface Panel {
  readonly id: 'height' | 'airspeed' | 'bank' | 'vertical-speed';
  readonly title: string;
  readonly unit: string;
  /** Share of the height of the stack. */
  readonly weight: number;
  readonly lines: readonly PanelLine[];
  readonly band: PanelBand | null;
  /** A limit drawn across the panel. */
  readonly level: { readonly value: number; readonly label: string } | null;
  readonly from: number;
  readonly to: number;
}

const SOLID: readonly number[] = [];
const DOTTED: readonly number[] = [2, 3];
const NOTHING: Range = { from: 0, to: 0 };

/** The ghost's column drawn beside a panel's first. Indicated airspeed is taken for calibrated. */
export const GHOST_OF: Readonly<Partial<Record<TraceColumn, GhostColumn>>> = {
  heightFt: 'heightFt',
  indicatedAirspeedKt: 'airspeedKcas',
  bankDeg: 'bankDeg',
  verticalSpeedFpm: 'verticalSpeedFpm',
};

interface Range {
  readonly from: number;
  readonly to: number;
}

/** The panels of one attempt, their scales fitted to what the window shows. */
export function panelsOf(
  trace: Trace,
  score: Score,
  window: TimeWindow,
  wingsLevelHeightFt: number | null,
  ghost: Ghost | null = null,
): Panel[] {
  const range = (column: TraceColumn) => {
    const own = extent(trace.timeS, trace[column], window);
    const ghostColumn = GHOST_OF[column];
    const beside = ghost && ghostColumn ? extent(ghost.timeS, ghost[ghostColumn], window) : null;
    if (own === null || beside === null) return own ?? beside;
    return { from: Math.min(own.from, beside.from), to: Math.max(own.to, beside.to) };
  };
  const height = range('heightFt') ?? NOTHING;
  const stall = range('stallSpeedKt');
  const speed = range('indicatedAirspeedKt') ?? stall ?? NOTHING;
  const speedBand = airspeedBand(score, window);
  const bank = range('bankDeg') ?? NOTHING;
  const turnBand = bankBand(trace, score);
  const vertical = range('verticalSpeedFpm') ?? NOTHING;
  const turned = score.phases.some(({ name }) => name === 'turn');
  // Under low load the stall speed runs towards zero; the scale need not follow it there.
  const lowestSpeed = Math.min(
    speed.from,
    Math.max(stall?.from ?? speed.from, speed.from - 40),
    speedBand?.from ?? speed.from,
  );
  return [
    {
      id: 'height',
      title: 'Height',
      unit: 'ft',
      weight: 3.2,
      lines: [{ column: 'heightFt', label: null, colour: 'ink', dash: SOLID }],
      band: null,
      level:
        wingsLevelHeightFt !== null && turned && wingsLevelHeightFt > 0
          ? { value: wingsLevelHeightFt, label: `wings level below ${figure(wingsLevelHeightFt, 'ft')}` }
          : null,
      ...outward({ from: Math.min(0, height.from), to: height.to * 1.02 }, 50),
    },
    {
      id: 'airspeed',
      title: 'Airspeed',
      unit: 'kt',
      weight: 3.2,
      lines: [
        { column: 'indicatedAirspeedKt', label: null, colour: 'ink', dash: SOLID },
        { column: 'stallSpeedKt', label: 'stall speed at this load factor', colour: 'alarm', dash: DOTTED },
      ],
      band: speedBand,
      level: null,
      ...outward({ from: lowestSpeed, to: Math.max(speed.to, stall?.to ?? 0, (speedBand?.to ?? 0) + 2) }, 10),
    },
    {
      id: 'bank',
      title: 'Bank',
      unit: '°',
      weight: 2.6,
      lines: [{ column: 'bankDeg', label: null, colour: 'ink', dash: SOLID }],
      band: turnBand,
      level: null,
      ...outward(
        {
          from: Math.min(bank.from, (turnBand?.from ?? 0) - 4, -10),
          to: Math.max(bank.to, (turnBand?.to ?? 0) + 4, 10),
        },
        10,
      ),
    },
    {
      id: 'vertical-speed',
      title: 'Vertical speed',
      unit: 'ft/min',
      weight: 2.2,
      lines: [{ column: 'verticalSpeedFpm', label: null, colour: 'ink', dash: SOLID }],
      band: null,
      level: null,
      ...outward({ from: Math.min(vertical.from, 0), to: Math.max(vertical.to, 0) }, 250),
    },
  ];
}

function airspeedBand(score: Score, window: TimeWindow): PanelBand | null {
  const { from, to } = score.criteria.airspeed.band;
  const fromS = score.events.find(({ code }) => code === 'first-action')?.atS ?? score.failure?.atS;
  if (from === null || to === null || fromS === undefined) return null;
  const end = ['flare', 'contact'].flatMap((code) => score.events.find((event) => event.code === code)?.atS ?? []);
  return { fromS, toS: end[0] ?? window.toS, from, to, label: `target ${plainNumber(from)} to ${figure(to, 'kt')}` };
}

/** The target bank on the side that was turned to. */
function bankBand(trace: Trace, score: Score): PanelBand | null {
  const { from, to } = score.criteria.bank.band;
  const turn = score.phases.find(({ name }) => name === 'turn');
  if (from === null || to === null || turn === undefined) return null;
  const sum = trace.timeS.reduce(
    (total, timeS, i) => (timeS >= turn.fromS && timeS <= turn.toS ? total + (trace.bankDeg[i] ?? 0) : total),
    0,
  );
  const span = { fromS: turn.fromS, toS: turn.toS, label: `target ${plainNumber(from)} to ${figure(to, '°')}` };
  return sum >= 0 ? { ...span, from, to } : { ...span, from: -to, to: -from };
}

/** Least and greatest value of a column within the window; null: it measured nothing there. */
function extent(
  timesS: readonly number[],
  values: readonly (number | null)[],
  { fromS, toS }: TimeWindow,
): Range | null {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  values.forEach((value, i) => {
    const timeS = timesS[i] as number;
    if (value === null || timeS < fromS || timeS > toS) return;
    from = Math.min(from, value);
    to = Math.max(to, value);
  });
  return from <= to ? { from, to } : null;
}

/** A range widened to the next multiples of a step, never empty. */
export function outward({ from, to }: Range, step: number): Range {
  const low = Math.floor(from / step) * step;
  const high = Math.ceil(to / step) * step;
  return { from: low, to: high > low ? high : low + step };
}
