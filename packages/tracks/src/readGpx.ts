// GPX 1.1 (Topografix, https://www.topografix.com/GPX/1/1/): the track points of every track and segment.
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { PointCollector } from './collectPoints.js';
import { isoSeconds } from './isoSeconds.js';
import { refused, type TrackRead } from './trackLog.js';

const FT_PER_M = 1 / 0.3048;
const LISTS = new Set(['trk', 'trkseg', 'trkpt']);

interface GpxPoint {
  readonly '@lat'?: string;
  readonly '@lon'?: string;
  readonly ele?: unknown;
  readonly time?: unknown;
}
interface Gpx {
  readonly gpx?: {
    readonly trk?: readonly { readonly trkseg?: readonly { readonly trkpt?: readonly GpxPoint[] }[] }[];
  };
}

/** Entities are never expanded and a document type is refused; a point needs lat, lon, ele and time. Never throws. */
export function readGpx(text: string): TrackRead {
  if (/<!(DOCTYPE|ENTITY)/i.test(text))
    return refused('the GPX file has a document type declaration, which GPX does not need: take it out');
  const points = new PointCollector('track point');
  let parsed: Gpx;
  try {
    const sound = XMLValidator.validate(text);
    if (sound !== true)
      return refused(`the GPX file is not sound XML: line ${sound.err.line}: ${oneLine(sound.err.msg)}`);
    parsed = new XMLParser({
      ignoreAttributes: false,
      attributeNamePrefix: '@',
      removeNSPrefix: true,
      parseTagValue: false,
      parseAttributeValue: false,
      processEntities: false,
      isArray: (name) => LISTS.has(name),
    }).parse(text) as Gpx;
  } catch (error) {
    return refused(`the GPX file is not sound XML: ${oneLine((error as Error).message)}`);
  }
  if (parsed.gpx === undefined) return refused('the GPX file must have gpx as its outermost element');
  let place = 0;
  for (const track of listOf(parsed.gpx.trk))
    for (const segment of listOf(track?.trkseg))
      for (const point of listOf(segment?.trkpt)) {
        place += 1;
        addPoint(points, place, point);
      }
  if (place === 0) return refused('the GPX file holds no track: it must have trk, trkseg and trkpt');
  return points.close('gpx', 'gps', 0);
}

function addPoint(points: PointCollector, place: number, point: GpxPoint): void {
  const latitudeDeg = numberOf(point['@lat']);
  const longitudeDeg = numberOf(point['@lon']);
  const elevationM = numberOf(point.ele);
  const clockS = isoSeconds(point.time);
  if (latitudeDeg === null || longitudeDeg === null) {
    points.leaveOut(place, 'lat and lon must be numbers');
    return;
  }
  if (elevationM === null) {
    points.leaveOut(place, 'it has no elevation');
    return;
  }
  if (clockS === null) {
    points.leaveOut(place, 'it has no time like 2026-01-31T09:30:00Z');
    return;
  }
  points.add(place, clockS, { latitudeDeg, longitudeDeg, altitudeFt: elevationM * FT_PER_M });
}

/** A lone empty element is read as text, which holds no points. */
function listOf<T>(list: readonly T[] | undefined): readonly T[] {
  return Array.isArray(list) ? list : [];
}

function numberOf(value: unknown): number | null {
  if (typeof value !== 'string' || !/^\s*[+-]?(\d+\.?\d*|\.\d+)\s*$/.test(value)) return null;
  return Number(value);
}

function oneLine(message: string): string {
  return message.replace(/\s+/g, ' ').slice(0, 200).replace(/\.$/, '');
}
