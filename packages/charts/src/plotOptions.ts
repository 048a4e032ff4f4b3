// uPlot's settings for one panel: scales, axes, lines, and what is painted behind the lines.
import type uPlot from 'uplot';
import type { ColourName } from './colours.js';
import { plainNumber } from './figures.js';
import type { Panel } from './panels.js';
import type { TimeWindow } from './traceAt.js';

/** A phase's stretch; every second one is shaded. */
export interface Shade {
  readonly fromS: number;
  readonly toS: number;
}

export interface PlotInput {
  readonly panel: Panel;
  readonly window: TimeWindow;
  readonly shades: readonly Shade[];
  /** Moments marked by an upright line. */
  readonly momentsS: readonly number[];
  /** A dashed line after the panel's own. */
  readonly hasGhost: boolean;
  readonly colours: Record<ColourName, string>;
  readonly fontFamily: string;
  readonly width: number;
  /** Of the plotting area; the time axis is added below it. */
  readonly height: number;
  readonly left: number;
  /** Written behind the last figure of the time axis; empty: nothing. */
  readonly timeUnit: string;
  /** 0: no time axis. */
  readonly timeAxisPx: number;
}

/** Half of a figure's digit on the time axis, and a little more. */
const HALF_DIGIT_PX = 4;

/** Room above and below the plotting area, so that the outer tick figures are not cut. */
export const PLOT_PAD_PX = 8;

export function plotOptions(input: PlotInput): uPlot.Options {
  const { panel, window, colours, fontFamily, left, timeAxisPx } = input;
  const font = `12px ${fontFamily}`;
  const grid = { stroke: colours.rule, width: 1 };
  return {
    width: input.width + left,
    height: input.height + 2 * PLOT_PAD_PX + timeAxisPx,
    padding: [PLOT_PAD_PX, 0, PLOT_PAD_PX, 0],
    legend: { show: false },
    cursor: { show: false },
    scales: {
      x: { time: false, range: [window.fromS - window.originS, window.toS - window.originS] },
      y: { range: [panel.from, panel.to] },
    },
    axes: [
      {
        show: timeAxisPx > 0,
        size: timeAxisPx,
        gap: 4,
        stroke: colours.quiet,
        font,
        grid: { show: false },
        ticks: { show: false },
        space: 56,
        values: (_, splits) => timeFigures(splits, input),
      },
      {
        size: left,
        gap: 8,
        stroke: colours.quiet,
        font,
        grid,
        ticks: { show: false },
        space: 16,
        values: (_, splits) => splits.map((value) => plainNumber(value)),
      },
    ],
    series: [
      {},
      ...panel.lines.map((line) => ({
        stroke: colours[line.colour],
        width: 1.75,
        dash: [...line.dash],
        points: { show: false },
      })),
      ...(input.hasGhost ? [{ stroke: colours.accent, width: 1.5, dash: [6, 4], points: { show: false } }] : []),
    ],
    hooks: { drawClear: [(plot) => paintBehind(plot, input)], draw: [(plot) => paintLevel(plot, input)] },
  };
}

/** Figures of the time axis. One whose half would stand beyond the edge is left out; the last one has the unit. */
function timeFigures(splits: readonly number[], { window, width, timeUnit }: PlotInput): string[] {
  const pxPerS = width / (window.toS - window.fromS);
  const roomPx = (value: number) => (window.toS - window.originS - value) * pxPerS;
  const halfPx = (value: number, unit: string) => HALF_DIGIT_PX * (plainNumber(value) + unit).length;
  const shown = splits.filter((value) => roomPx(value) >= halfPx(value, ''));
  const last = shown.findLast((value) => roomPx(value) >= halfPx(value, timeUnit));
  return splits.map((value) => (shown.includes(value) ? plainNumber(value) + (value === last ? timeUnit : '') : ''));
}

function paintBehind(plot: uPlot, { panel, window: { originS, fromS, toS }, shades, momentsS, colours }: PlotInput) {
  const { ctx } = plot;
  const { top, height } = plot.bbox;
  const x = (atS: number) => plot.valToPos(Math.min(Math.max(atS, fromS), toS) - originS, 'x', true);
  ctx.save();
  ctx.fillStyle = colours.sheet;
  for (const shade of shades) ctx.fillRect(x(shade.fromS), top, x(shade.toS) - x(shade.fromS), height);
  if (panel.band) {
    const { band } = panel;
    const upper = plot.valToPos(Math.min(band.to, panel.to), 'y', true);
    const lower = plot.valToPos(Math.max(band.from, panel.from), 'y', true);
    ctx.fillStyle = colours.wash;
    ctx.fillRect(x(band.fromS), upper, x(band.toS) - x(band.fromS), lower - upper);
    ctx.strokeStyle = colours.accent;
    ctx.lineWidth = devicePixelRatio;
    for (const y of [upper, lower])
      strokeLine(ctx, x(band.fromS), Math.round(y) + 0.5, x(band.toS), Math.round(y) + 0.5);
  }
  ctx.strokeStyle = colours.quiet;
  ctx.lineWidth = devicePixelRatio;
  for (const atS of momentsS) {
    const at = Math.round(x(atS)) + 0.5;
    strokeLine(ctx, at, top, at, top + height);
  }
  ctx.restore();
}

function paintLevel(plot: uPlot, { panel, colours }: PlotInput) {
  if (!panel.level) return;
  const { ctx } = plot;
  const { left, width } = plot.bbox;
  const y = Math.round(plot.valToPos(panel.level.value, 'y', true)) + 0.5;
  ctx.save();
  ctx.strokeStyle = colours.alarm;
  ctx.lineWidth = devicePixelRatio;
  ctx.setLineDash([6 * devicePixelRatio, 4 * devicePixelRatio]);
  strokeLine(ctx, left, y, left + width, y);
  ctx.restore();
}

function strokeLine(ctx: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number) {
  ctx.beginPath();
  ctx.moveTo(x0, y0);
  ctx.lineTo(x1, y1);
  ctx.stroke();
}
