// Track logs of every format against published examples, libraries of others, round trips and hostile files.
import { TrackMapping } from '@stillprop/contracts';
import fc from 'fast-check';
import IGCParser from 'igc-parser';
import { describe, expect, test } from 'vitest';
import { readTrack } from './readTrack.js';
import type { TrackLog } from './trackLog.js';

const FT_PER_M = 1 / 0.3048;

function track(text: string, mapping?: TrackMapping): TrackLog {
  const read = readTrack(text, mapping);
  if (!read.ok) throw new Error(read.problem.message);
  return read.track;
}
function refusal(text: string, mapping?: TrackMapping): string {
  const read = readTrack(text, mapping);
  if (read.ok) throw new Error('was not refused');
  return read.problem.message;
}

const gpx = (points: string) =>
  `<?xml version="1.0"?><gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>${points}</trkseg></trk></gpx>`;
const trkpt = (lat: number, lon: number, ele: number, time: string) =>
  `<trkpt lat="${lat}" lon="${lon}"><ele>${ele}</ele><time>${time}</time></trkpt>`;

describe('GPX', () => {
  test('reads position, elevation in metres and time', () => {
    const { points, startedAt, altitudeFrom } = track(
      gpx(
        trkpt(47.644548, -122.326897, 4.46, '2009-10-17T18:37:26Z') +
          trkpt(47.644548, -122.326897, 4.94, '2009-10-17T18:37:31.5Z'),
      ),
    );
    expect(startedAt).toBe('2009-10-17T18:37:26.000Z');
    expect(altitudeFrom).toBe('gps');
    expect(points.map(({ timeS }) => timeS)).toEqual([0, 5.5]);
    expect(points[1]).toMatchObject({ latitudeDeg: 47.644548, longitudeDeg: -122.326897 });
    expect(points[1]?.altitudeFt).toBeCloseTo(4.94 / 0.3048, 9);
  });

  test('names the point that has no time, and goes on', () => {
    const good = (s: number) => trkpt(1, 2, 3, `2026-01-01T00:00:0${s}Z`);
    const { points, leftOut, warnings } = track(gpx(`${good(1)}<trkpt lat="1" lon="2"><ele>3</ele></trkpt>${good(2)}`));
    expect(points).toHaveLength(2);
    expect(leftOut).toEqual([{ place: 2, why: 'it has no time like 2026-01-31T09:30:00Z' }]);
    expect(warnings[0]).toMatch(/^1 track point was left out; the first is track point 2/);
  });

  test.each([
    ['an entity bomb', '<!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><gpx>&b;</gpx>', /document type/],
    ['broken XML', '<gpx><trk></gpx>', /not sound XML/],
    ['another document', '<html></html>', /gpx as its outermost/],
    ['no track', gpx(''), /holds no track/],
    ['a very deep document', `${'<a>'.repeat(50_000)}${'</a>'.repeat(50_000)}`, /XML|outermost/],
  ])('refuses %s in one line', (_name, text, message) => {
    const said = refusal(text);
    expect(said).toMatch(message);
    expect(said).not.toContain('\n');
  });
});

describe('IGC', () => {
  // The example B record of the FAI technical specification, A4.1.
  const EXAMPLE = 'B1602405407121N00249342WA0028000421';
  const NEXT = 'B1602455107126N00149300WA0028800429';

  test('reads the fixes of the specification as its text says', () => {
    const { points, startedAt, altitudeFrom } = track(['AXXXABC', 'HFDTE160701', EXAMPLE, NEXT].join('\r\n'));
    expect(startedAt).toBe('2001-07-16T16:02:40.000Z');
    expect(altitudeFrom).toBe('gps');
    expect(points[0]?.latitudeDeg).toBeCloseTo(54 + 7.121 / 60, 9);
    expect(points[0]?.longitudeDeg).toBeCloseTo(-(2 + 49.342 / 60), 9);
    expect(points[0]?.altitudeFt).toBeCloseTo(421 * FT_PER_M, 9);
    expect(points[1]?.timeS).toBe(5);
  });

  test('goes on past midnight, reads ground speed, and leaves out fixes without satellites', () => {
    const { points, leftOut } = track(
      [
        'HFDTEDATE:311225,01',
        'I013638GSP',
        'B2359585407121N00249342WA0028000421100',
        'B2359595407121N00249342WV0028000000100',
        'B0000015407121N00249342WA0028000421185',
      ].join('\n'),
    );
    expect(points.map(({ timeS }) => timeS)).toEqual([0, 3]);
    expect(points[1]?.groundspeedKt).toBeCloseTo(185 / 1.852, 9);
    expect(leftOut.map(({ place }) => place)).toEqual([4]);
  });

  test('takes the pressure altitude where there is none by satellites', () => {
    const lines = [EXAMPLE, NEXT].map((line) => `${line.slice(0, 24)}V${line.slice(25, 30)}00000`);
    const { points, altitudeFrom, startedAt } = track(lines.join('\n'));
    expect(altitudeFrom).toBe('pressure');
    expect(startedAt).toBeNull();
    expect(points[0]?.altitudeFt).toBeCloseTo(280 * FT_PER_M, 9);
  });

  test('reads any fixes as the library igc-parser does', () => {
    const pad = (value: number, width: number) => String(value).padStart(width, '0');
    const fix = fc.record({
      lat: fc.integer({ min: 0, max: 89 }),
      lon: fc.integer({ min: 0, max: 179 }),
      minutes: fc.integer({ min: 0, max: 59_999 }),
      ns: fc.constantFrom('N', 'S'),
      ew: fc.constantFrom('E', 'W'),
      gps: fc.integer({ min: 1, max: 9000 }),
    });
    fc.assert(
      fc.property(
        fc.array(fix, { minLength: 2, maxLength: 20 }),
        fc.integer({ min: 0, max: 86_399 }),
        (fixes, from) => {
          const lines = fixes.map(({ lat, lon, minutes, ns, ew, gps }, i) => {
            const s = (from + i * 7) % 86_400;
            const clock = `${pad(Math.floor(s / 3600), 2)}${pad(Math.floor(s / 60) % 60, 2)}${pad(s % 60, 2)}`;
            return `B${clock}${pad(lat, 2)}${pad(minutes, 5)}${ns}${pad(lon, 3)}${pad(minutes, 5)}${ew}A00100${pad(gps, 5)}`;
          });
          const text = ['AXXXABC', 'HFDTE160701', ...lines].join('\n');
          const other = IGCParser.parse(text).fixes;
          const ours = track(text);
          expect(ours.points).toHaveLength(other.length);
          const zeroMs = Date.parse(ours.startedAt as string);
          for (const [i, point] of ours.points.entries()) {
            expect(zeroMs + point.timeS * 1000).toBe(other[i]?.timestamp);
            expect(point.latitudeDeg).toBeCloseTo(other[i]?.latitude as number, 9);
            expect(point.longitudeDeg).toBeCloseTo(other[i]?.longitude as number, 9);
            expect(point.altitudeFt).toBeCloseTo((other[i]?.gpsAltitude as number) * FT_PER_M, 9);
          }
        },
      ),
    );
  });
});

const withChecksum = (body: string) => {
  let sum = 0;
  for (const letter of body) sum ^= letter.charCodeAt(0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
};

describe('NMEA 0183', () => {
  test('joins the sentences of one second, over midnight, and names damaged ones', () => {
    const { points, startedAt, leftOut } = track(
      [
        withChecksum('GPGGA,235959.00,4832.3762,N,00903.5393,E,1,04,7.8,498.6,M,48.0,M,,'),
        withChecksum('GPRMC,235959.00,A,4832.3762,N,00903.5393,E,022.4,084.4,230394,,,A'),
        '$GPGGA,000000.00,4832.3762,N,00903.5393,E,1,04,7.8,498.6,M,48.0,M,,*00',
        withChecksum('GPGGA,000001.00,4832.3762,N,00903.5393,E,1,04,7.8,500.0,M,48.0,M,,'),
        withChecksum('GPVTG,090.0,T,,M,050.0,N,,K,A'),
      ].join('\r\n'),
    );
    expect(startedAt).toBe('1994-03-23T23:59:59.000Z');
    expect(points).toEqual([
      {
        timeS: 0,
        latitudeDeg: expect.closeTo(48 + 32.3762 / 60, 9),
        longitudeDeg: expect.closeTo(9 + 3.5393 / 60, 9),
        altitudeFt: expect.closeTo(498.6 * FT_PER_M, 6),
        groundspeedKt: 22.4,
        trackDeg: 84.4,
      },
      expect.objectContaining({ timeS: 2, groundspeedKt: 50, trackDeg: 90 }),
    ]);
    expect(leftOut).toEqual([{ place: 3, why: 'the sentence is refused (checksum)' }]);
  });
});

describe('CSV', () => {
  const mapping = TrackMapping.parse({
    schemaVersion: 1,
    separator: ';',
    decimal: ',',
    time: { column: 't', as: 's' },
    altitudeFrom: 'pressure',
    columns: [
      { channel: 'latitudeDeg', column: 'lat', unit: 'deg' },
      { channel: 'longitudeDeg', column: 'lon', unit: 'deg' },
      { channel: 'altitudeFt', column: 4, unit: 'm' },
      { channel: 'indicatedAirspeedKt', column: 'speed', unit: 'km/h' },
    ],
  });

  test('reads columns by header and by number, decimal commas and units; empty stays absent', () => {
    const { points, altitudeFrom, leftOut } = track(
      't;lat;lon;alt;speed\n10;48,5;9,25;100;185,2\nx;1;1;1;1\n11,5;48,5;9,25;"101";\n',
      mapping,
    );
    expect(altitudeFrom).toBe('pressure');
    expect(points[0]).toMatchObject({ timeS: 0, latitudeDeg: 48.5, longitudeDeg: 9.25 });
    expect(points[0]?.indicatedAirspeedKt).toBeCloseTo(100, 9);
    expect(points[0]?.altitudeFt).toBeCloseTo(100 * FT_PER_M, 9);
    expect(points[1]?.timeS).toBe(1.5);
    expect(points[1]).not.toHaveProperty('indicatedAirspeedKt');
    expect(leftOut).toEqual([{ place: 3, why: 'its time is no number' }]);
  });

  test('says which column is missing, and which unit cannot be', () => {
    expect(refusal('a;b\n1;2', mapping)).toBe('the CSV file has no column "t": it has a, b');
    const wrong = { ...mapping, columns: mapping.columns.map((column) => ({ ...column, unit: 's' as const })) };
    expect(refusal('t;lat;lon;alt;speed\n1;1;1;1;1', wrong)).toMatch(/^latitudeDeg must have one of the units deg/);
  });

  test('any numbers come back as they were written', () => {
    const row = fc.record({
      lat: fc.double({ min: -90, max: 90, noNaN: true }),
      lon: fc.double({ min: -180, max: 180, noNaN: true }),
      alt: fc.double({ min: -500, max: 15_000, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 2, maxLength: 30 }), (rows) => {
        const number = (value: number) => String(value).replace('.', ',');
        const lines = rows.map(({ lat, lon, alt }, i) => [i, number(lat), number(lon), number(alt), ''].join(';'));
        const { points } = track(['t;lat;lon;alt;speed', ...lines].join('\n'), mapping);
        for (const [i, { lat, lon, alt }] of rows.entries()) {
          expect(points[i]?.latitudeDeg).toBeCloseTo(lat, 12);
          expect(points[i]?.longitudeDeg).toBeCloseTo(lon, 12);
          expect(points[i]?.altitudeFt).toBeCloseTo(alt * FT_PER_M, 6);
        }
      }),
    );
  });
});

test.each([
  ['', 'the track log is empty'],
  ['PK\u0003\u0004rest', 'the track log is compressed: unpack it first'],
  ['hello', 'the track log is neither GPX, IGC nor NMEA: a CSV file needs a mapping of its columns'],
])('refuses %j', (text, message) => {
  expect(refusal(text)).toBe(message);
});

test('nothing that can be written makes it throw, and points ascend in time', () => {
  const start = fc.constantFrom(
    '',
    '<gpx>',
    '<',
    'HFDTE160701\n',
    'B1602405407121N00249342WA0028000421\n',
    '$GPGGA,',
    '\uFEFF',
  );
  fc.assert(
    fc.property(start, fc.string({ unit: 'binary', maxLength: 400 }), (lead, rest) => {
      const read = readTrack(lead + rest);
      if (!read.ok) expect(read.problem.message).not.toMatch(/[\r\n]/);
      else
        for (const [i, point] of read.track.points.entries())
          if (i > 0) expect(point.timeS).toBeGreaterThan(read.track.points[i - 1]?.timeS as number);
    }),
  );
});
