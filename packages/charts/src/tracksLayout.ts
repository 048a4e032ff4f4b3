// Everything the view of several tracks draws, in pixels: the plan above, the same flights from the side below it.
import type { Runway, Trace } from '@stillprop/contracts';
import { figure } from './figures.js';
import { type Box, clearance, type Line, type Point, type Size, thinned } from './labelPlacement.js';
import { planFrame, roundLength, unbrokenPieces } from './planFrame.js';

const MARGIN_PX = 26;
/** Of the whole height; the plan, which is drawn to scale, has the rest. */
const PROFILE_SHARE = 0.32;
const GAP_PX = 30;
/** Heights are drawn so many times as tall as distances are long: the most that fits. */
const EXAGGERATIONS = [10, 5, 4, 3, 2, 1.5, 1];
const HEIGHTS_FT = [100, 200, 500, 1000, 2000, 5000];
const HEIGHTS_APART_PX = 26;
/** Places along a track that its label may stand at, and how near others may come to it there. */
const LABEL_PLACES = 48;
const LABEL_GAP_PX = 2;
/** Half a cross. */
export const MARK_PX = 5;

/** Told apart by their dashes and labels, not by colour alone: eight, then they come again. */
const DASHES = ['', '9 4', '2 3', '12 3 2 3', '20 5', '5 2 1 2 1 2', '1 5', '14 3 5 3'];
export const trackDash = (index: number) => DASHES[index % DASHES.length] ?? '';

export interface ShownTrack {
  readonly label: string;
  readonly trace: Trace;
  /** Loss of power (recording seconds); null: from its beginning. */
  readonly fromS: number | null;
}

export interface PlacedLabel {
  readonly text: string;
  readonly box: Box;
}

export interface DrawnTrack {
  readonly plan: readonly Line[];
  readonly profile: readonly Line[];
}

export interface TracksLayout {
  readonly tracks: readonly DrawnTrack[];
  readonly labels: readonly PlacedLabel[];
  readonly field: Box;
  readonly runway: Box;
  /** The side view: ground from end to end, runway on it, lines of equal height. */
  readonly ground: readonly [Point, Point];
  readonly strip: readonly [Point, Point];
  readonly heights: readonly { readonly y: number; readonly text: string }[];
  readonly exaggeration: number;
  readonly scale: { readonly at: Point; readonly lengthPx: number; readonly text: string };
}

interface Place {
  readonly along: number;
  readonly across: number;
  readonly heightFt: number | null;
}

export function tracksLayout(
  shown: readonly ShownTrack[],
  runway: Runway,
  { width, height }: Size,
  measure: (text: string) => Size,
): TracksLayout {
  const { airfield, lengthFt, widthFt } = runway;
  const flown = shown.map(placesOf);
  const places = flown.flat().filter((place) => place !== null);
  const ends = (values: readonly number[]) =>
    [values.reduce((a, b) => Math.min(a, b)), values.reduce((a, b) => Math.max(a, b))] as const;
  const [alongFromFt, alongToFt] = ends([
    -airfield.beyondEndFt,
    lengthFt + airfield.beyondEndFt,
    ...places.map(({ along }) => along),
  ]);
  const [acrossFromFt, acrossToFt] = ends([
    -airfield.besideFt,
    airfield.besideFt,
    ...places.map(({ across }) => across),
  ]);
  const sideHeight = Math.round(height * PROFILE_SHARE);
  const area = {
    x: MARGIN_PX,
    y: MARGIN_PX,
    width: width - 2 * MARGIN_PX,
    height: Math.max(1, height - sideHeight - GAP_PX - MARGIN_PX),
  };
  const { toPx, pxPerFt } = planFrame({ alongFromFt, alongToFt, acrossFromFt, acrossToFt }, area);
  const topFt = places.reduce((most, { heightFt }) => Math.max(most, heightFt ?? 0), 100);
  const groundY = height - MARGIN_PX;
  const roomPx = Math.max(1, sideHeight - MARGIN_PX - 6);
  const exaggeration = EXAGGERATIONS.find((times) => topFt * pxPerFt * times <= roomPx) ?? 1;
  const pxPerHeightFt = Math.min(pxPerFt * exaggeration, roomPx / topFt);
  const side = (along: number, heightFt: number): Point => ({
    x: toPx(along, 0).x,
    y: groundY - heightFt * pxPerHeightFt,
  });
  const tracks = flown.map((line) => ({
    plan: unbrokenPieces(line.map((place) => place && toPx(place.along, place.across))),
    profile: unbrokenPieces(
      line.map((place) => (place === null || place.heightFt === null ? null : side(place.along, place.heightFt))),
    ),
  }));
  const texts = shown.map(({ label }) => label);
  const planLabels = labelsOf(
    texts,
    tracks.map(({ plan }) => plan),
    { x: 2, y: 2, width: width - 4, height: area.y + area.height + 8 },
    measure,
    [toPx(0, 0), toPx(lengthFt, 0)],
  );
  const sideLabels = labelsOf(
    texts,
    tracks.map(({ profile }) => profile),
    { x: 2, y: groundY - sideHeight, width: width - 4, height: sideHeight + 4 },
    measure,
    [side(0, 0), side(lengthFt, 0)],
  );
  const stepFt = HEIGHTS_FT.find((step) => step * pxPerHeightFt >= HEIGHTS_APART_PX) ?? topFt;
  const corner = (from: Point, to: Point): Box => ({ ...from, width: to.x - from.x, height: to.y - from.y });
  const scaleFt = roundLength(Math.min(130, width / 5) / pxPerFt);
  return {
    tracks,
    labels: [...planLabels, ...sideLabels],
    field: corner(
      toPx(-airfield.beyondEndFt, -airfield.besideFt),
      toPx(lengthFt + airfield.beyondEndFt, airfield.besideFt),
    ),
    runway: corner(toPx(0, -widthFt / 2), toPx(lengthFt, widthFt / 2)),
    ground: [side(alongFromFt, 0), side(alongToFt, 0)],
    strip: [side(0, 0), side(lengthFt, 0)],
    heights: Array.from({ length: Math.floor(topFt / stepFt) }, (_, i) => (i + 1) * stepFt).map((heightFt) => ({
      y: side(0, heightFt).y,
      text: figure(heightFt, 'ft'),
    })),
    exaggeration: Math.round(10 * (pxPerHeightFt / pxPerFt)) / 10,
    scale: { at: { x: MARGIN_PX, y: height - 8 }, lengthPx: scaleFt * pxPerFt, text: figure(scaleFt, 'ft') },
  };
}

/** From the loss of power on; null: not measured at that moment. */
function placesOf({ trace, fromS }: ShownTrack): (Place | null)[] {
  return trace.timeS.flatMap((timeS, i) => {
    if (timeS < (fromS ?? Number.NEGATIVE_INFINITY)) return [];
    const [along, across] = [trace.alongFt[i] ?? null, trace.acrossFt[i] ?? null];
    return along === null || across === null ? [null] : [{ along, across, heightFt: trace.heightFt[i] ?? null }];
  });
}

/**
 * One to each track that is drawn, written over its own line, where neither another track nor the runway comes near: so it
 * can belong to none of those. Where they all run together, no label stands on another at least.
 */
function labelsOf(
  texts: readonly string[],
  tracks: readonly (readonly Line[])[],
  area: Box,
  measure: (text: string) => Size,
  strip: Line,
): PlacedLabel[] {
  const lines = tracks.map((track) => track.map((line) => thinned(line, 3)));
  // The crosses where the power was lost are kept clear too.
  const boxes: Box[] = tracks.flatMap(([line]) => {
    const at = line?.[0];
    return at === undefined ? [] : [{ x: at.x - MARK_PX, y: at.y - MARK_PX, width: 2 * MARK_PX, height: 2 * MARK_PX }];
  });
  return tracks.flatMap((track, i) => {
    const text = texts[i] ?? '';
    const points = track.flat();
    if (points.length === 0) return [];
    const size = measure(text);
    const others = { lines: [strip, ...lines.filter((_, j) => j !== i).flat()], boxes: [] };
    const places = Array.from({ length: LABEL_PLACES }, (_, k) => {
      const at = points[Math.floor(((k + 0.5) / LABEL_PLACES) * points.length)] as Point;
      return inside(at, size, area);
    });
    const farthestFirst = places
      .map((box) => ({ box, roomPx: clearance(box, others) }))
      .sort((a, b) => b.roomPx - a.roomPx)
      .map(({ box }) => box);
    const free = farthestFirst.find((box) => clearance(box, { lines: [], boxes }, LABEL_GAP_PX) >= LABEL_GAP_PX);
    const box = free ?? (farthestFirst[0] as Box);
    boxes.push(box);
    return [{ text, box }];
  });
}

function inside({ x, y }: Point, size: Size, area: Box): Box {
  const within = (value: number, from: number, room: number) =>
    Math.min(Math.max(value, from), from + Math.max(0, room));
  return {
    x: within(x - size.width / 2, area.x, area.width - size.width),
    y: within(y - size.height / 2, area.y, area.height - size.height),
    ...size,
  };
}
