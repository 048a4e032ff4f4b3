// All that the time charts draw, worked out before anything is painted: window, panels, places and labels.
import type { Score, ScoreEvent, ScoreEventCode, Trace } from '@stillprop/contracts';
import type { Ghost } from './ghost.js';
import { type PanelLabel, panelLabels } from './panelLabels.js';
import { type Panel, panelsOf } from './panels.js';
import { type MarkLabel, markLabels, type RowLabel, stretchLabels } from './rowLabels.js';
import { type StackLayout, stackLayout } from './stackLayout.js';
import { type TimeWindow, timeWindow } from './traceAt.js';
import { EVENT_WORDS, PHASE_WORDS } from './words.js';

/** Marked by name above the charts, the most important first. */
const MARKED_EVENTS: readonly ScoreEventCode[] = ['power-lost', 'contact', 'first-action', 'lift-off'];
/** Room that the moment's text takes at the right of the phase names on a narrow page. */
const NARROW_MOMENT_PX = 96;
/** Of the gap between two panels side by side with their titles. */
const ABOVE_PX = 16;

export interface ChartsDrawing {
  readonly window: TimeWindow;
  readonly panels: readonly Panel[];
  readonly stack: StackLayout;
  /** Of each panel, in its plotting area's pixels. */
  readonly labels: readonly (readonly PanelLabel[])[];
  readonly phases: readonly RowLabel[];
  readonly marks: readonly MarkLabel[];
  /** Every second phase, shaded. */
  readonly shades: readonly { readonly fromS: number; readonly toS: number }[];
  readonly moments: readonly ScoreEvent[];
}

export interface ChartsInput {
  readonly trace: Trace;
  readonly score: Score;
  readonly wingsLevelHeightFt: number | null;
  readonly whole: boolean;
  /** Flown as asked by the model; null: not drawn. */
  readonly ghost: Ghost | null;
  readonly width: number;
  readonly height: number;
  /** Width of a text (px) as it will be drawn. */
  readonly measure: (text: string) => number;
}

export function chartsDrawing(input: ChartsInput): ChartsDrawing {
  const { trace, score, measure } = input;
  const window = timeWindow(score, trace.timeS, input.whole);
  const { fromS, toS } = window;
  const panels = panelsOf(trace, score, window, input.wingsLevelHeightFt, input.ghost);
  const stack = stackLayout(input.width, input.height, panels);
  const clip = (atS: number) => Math.min(Math.max(atS, fromS), toS);
  const x = (atS: number) => ((clip(atS) - fromS) / (toS - fromS)) * stack.plotWidth;
  const phases = score.phases.filter((phase) => phase.toS > fromS && phase.fromS < toS);
  const moments = MARKED_EVENTS.flatMap(
    (code) => score.events.find((event) => event.code === code && event.atS >= fromS && event.atS <= toS) ?? [],
  );
  return {
    window,
    panels,
    stack,
    labels: panels.map((panel, i) => {
      const area = { width: stack.plotWidth, height: stack.panels[i]?.height ?? 0 };
      const momentsS = moments.map(({ atS }) => atS);
      // Between two panels there is room for a label that finds none inside; above the first stand names.
      const abovePx = i === 0 || stack.narrow ? 0 : ABOVE_PX;
      return panelLabels({ panel, trace, ghost: input.ghost, window, area, abovePx, measure, momentsS });
    }),
    phases: stretchLabels(
      phases.map((phase) => {
        const text = PHASE_WORDS[phase.name];
        return { text, fromX: x(phase.fromS), toX: x(phase.toS), width: measure(text) };
      }),
      stack.narrow ? stack.plotWidth - NARROW_MOMENT_PX : stack.plotWidth,
      6,
      stack.left / 2,
    ),
    marks: markLabels(
      moments.map(({ code, atS }) => ({ text: EVENT_WORDS[code], x: x(atS), width: measure(EVENT_WORDS[code]) })),
      stack.plotWidth,
      6,
      { left: stack.left, right: stack.right },
    ),
    shades: phases.filter((_, i) => i % 2 === 0),
    moments,
  };
}
