// Places of the time charts' panels under each other, in whole pixels.
import type { Panel } from './panels.js';

export interface PanelPlace {
  /** Of the plotting area. */
  readonly top: number;
  readonly height: number;
}
export interface StackLayout {
  readonly narrow: boolean;
  readonly left: number;
  readonly plotWidth: number;
  readonly right: number;
  readonly phasesTop: number;
  readonly eventsTop: number;
  readonly panels: readonly PanelPlace[];
  /** Lower edge of the last plotting area; the time axis hangs below. */
  readonly bottom: number;
}

export const TIME_AXIS_PX = 24;
const NARROW_BELOW_PX = 560;
const ROW_PX = 18;
const LEAST_PANEL_PX = 34;

/** Panels share what is left of the height by weight; on a narrow page their titles stand above instead of beside. */
export function stackLayout(width: number, height: number, panels: readonly Pick<Panel, 'weight'>[]): StackLayout {
  const narrow = width < NARROW_BELOW_PX;
  const left = 57; // −10,000 and its gap
  const right = narrow ? 6 : 138;
  const gap = narrow ? 36 : 18;
  const rows = 2 * ROW_PX + 4;
  const first = rows + (narrow ? gap : 0);
  const room = height - first - TIME_AXIS_PX - gap * (panels.length - 1);
  const weights = panels.reduce((sum, { weight }) => sum + weight, 0);
  let top = first;
  const places = panels.map(({ weight }) => {
    const place = { top, height: Math.max(LEAST_PANEL_PX, Math.floor((room * weight) / weights)) };
    top += place.height + gap;
    return place;
  });
  return {
    narrow,
    left,
    right,
    plotWidth: Math.max(40, Math.floor(width - left - right)),
    phasesTop: 0,
    eventsTop: ROW_PX,
    panels: places,
    bottom: top - gap,
  };
}
