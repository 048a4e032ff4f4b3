// Direct labels of one panel, placed where they cover no line.
import type { Trace } from '@stillprop/contracts';
import { GHOST_SHORT, type Ghost } from './ghost.js';
import { alongLine, type Box, type Line, type Point, placeLabel, type Size, thinned } from './labelPlacement.js';
import { GHOST_OF, type Panel, type PanelBand } from './panels.js';
import type { TimeWindow } from './traceAt.js';

export interface PanelLabel {
  readonly text: string;
  readonly colour: 'ink' | 'alarm' | 'accent';
  readonly box: Box;
}

const LABEL_HEIGHT_PX = 15;
const GAP_PX = 3;
/** A line's points need not stand closer to keep labels off it. */
const THINNED_PX = 4;

export interface PanelLabelsInput {
  readonly panel: Panel;
  readonly trace: Trace;
  readonly ghost: Ghost | null;
  readonly window: TimeWindow;
  /** Plotting area (px) in whose corner the panel's coordinates begin. */
  readonly area: { readonly width: number; readonly height: number };
  /** Free above the plotting area (px): for the band's name. */
  readonly abovePx: number;
  /** Width of a text (px) as it will be drawn. */
  readonly measure: (text: string) => number;
  /** Moments drawn as upright lines. */
  readonly momentsS: readonly number[];
}

export function panelLabels(input: PanelLabelsInput): PanelLabel[] {
  const { panel, trace, ghost, area, abovePx, measure, momentsS } = input;
  const { fromS, toS } = input.window;
  const x = (atS: number) => ((atS - fromS) / (toS - fromS)) * area.width;
  const y = (value: number) => ((panel.to - value) / (panel.to - panel.from)) * area.height;
  const inside: Box = { x: 0, y: 0, ...area };
  const andAbove: Box = { x: 0, y: -abovePx, width: area.width, height: area.height + abovePx };
  const drawn = (timesS: readonly number[], values: readonly (number | null)[]): Line =>
    thinned(
      values.flatMap((value, i): Point[] => {
        const timeS = timesS[i] as number;
        return value === null || timeS < fromS || timeS > toS ? [] : [{ x: x(timeS), y: y(value) }];
      }),
      THINNED_PX,
    );
  const lines = panel.lines.map(({ column }) => drawn(trace.timeS, trace[column]));
  const ghostColumn = panel.lines[0] && GHOST_OF[panel.lines[0].column];
  const ghostLine = ghost && ghostColumn ? drawn(ghost.timeS, ghost[ghostColumn]) : [];
  const level: Line | null = panel.level && [
    { x: 0, y: y(panel.level.value) },
    { x: area.width, y: y(panel.level.value) },
  ];
  const { band } = panel;
  const edges = (value: number): Line =>
    band
      ? [
          { x: x(band.fromS), y: y(value) },
          { x: x(band.toS), y: y(value) },
        ]
      : [];
  const bandEdges = band ? [edges(band.from), edges(band.to)] : [];
  const uprights = momentsS.map((atS) => [
    { x: x(atS), y: 0 },
    { x: x(atS), y: area.height },
  ]);
  const obstacles = {
    lines: [...lines, ghostLine, ...bandEdges, ...uprights, ...(level ? [level] : [])],
    boxes: [] as Box[],
  };
  const labels: PanelLabel[] = [];
  const sizeOf = (text: string) => ({ width: measure(text), height: LABEL_HEIGHT_PX });
  const place = (text: string, colour: PanelLabel['colour'], candidates: readonly Box[], room = inside) => {
    const box = placeLabel(candidates, room, obstacles, GAP_PX);
    if (!box) return false;
    obstacles.boxes.push(box);
    labels.push({ text, colour, box });
    return true;
  };
  panel.lines.forEach((line, i) => {
    if (line.label) place(line.label, line.colour, alongLine(lines[i] ?? [], sizeOf(line.label), [4, 8, 16, 26, 38]));
  });
  // Said once: dashes and colour are the same in the other panels.
  if (panel.id === 'height' && ghostLine.length > 1) {
    place(GHOST_SHORT, 'accent', alongLine(ghostLine, sizeOf(GHOST_SHORT), [4, 8, 16, 26]));
  }
  if (panel.level && level) {
    place(panel.level.label, 'alarm', alongLine(spread(level), sizeOf(panel.level.label), [4]));
  }
  if (band) {
    const size = sizeOf(band.label);
    const upper = bandEdges[1] ?? [];
    // A band has its name inside the panel where there is room, else just above.
    const candidates = [...alongLine(spread(upper), size, [4]), ...besideEnds(band, x, y, size)];
    if (!place(band.label, 'accent', candidates)) place(band.label, 'accent', candidates, andAbove);
  }
  return labels;
}

/** Boxes after the right end of a band and before its left end. */
function besideEnds(band: PanelBand, x: (atS: number) => number, y: (value: number) => number, size: Size): Box[] {
  const tops = [y((band.from + band.to) / 2) - size.height / 2, y(band.to), y(band.to) - size.height / 2];
  return [7, 12, 18, 26, 36, 48, 60].flatMap((away) =>
    tops.flatMap((top) => [
      { x: x(band.toS) + away, y: top, ...size },
      { x: x(band.fromS) - away - size.width, y: top, ...size },
    ]),
  );
}

/** A line of two points as many, so that labels can stand anywhere along it. */
function spread(line: Line): Line {
  const [from, to] = [line[0], line[1]];
  if (line.length !== 2 || !from || !to) return line;
  const count = 40;
  return Array.from({ length: count + 1 }, (_, i) => ({
    x: from.x + ((to.x - from.x) * i) / count,
    y: from.y + ((to.y - from.y) * i) / count,
  }));
}
