// NMEA 0183 against sentences and encoders of other makers, another parser, and damage.
import fc from 'fast-check';
import { GPS } from 'gps';
import { encodeNmeaPacket } from 'nmea-simple';
import { describe, expect, test } from 'vitest';
import { continuousTime } from '../continuousTime.js';
import { sourcesClaimed, sourcesShown } from '../coverage.fixture.js';
import { MUTATION_TIME, tryMutated } from '../mutated.fixture.js';
import { decodeNmea0183, NMEA0183_COVERAGE } from './decodeNmea0183.js';

const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
const decode = (text: string) => decodeNmea0183(bytes(text));
/** A sentence from what stands between $ and the checksum. */
const sentence = (body: string) => {
  const sum = [...body].reduce((xor, letter) => xor ^ letter.charCodeAt(0), 0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
};
const onlyMessage = (text: string) => {
  const { messages, refused } = decode(text);
  expect(refused).toEqual([]);
  expect(messages).toHaveLength(1);
  return messages[0];
};

// The README of the npm package gps 0.9.0 and the tests of nmea-simple 3.3.0, whose tests also state the values.
const GGA = '$GPGGA,224900.000,4832.3762,N,00903.5393,E,1,04,7.8,498.6,M,48.0,M,,0000*5E';
const RMC = '$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A';
const VTG = '$XXVTG,210.43,T,209.43,M,2.91,N,5.38,K,A*38';

describe('published sentences', () => {
  test('GGA: altitude is above sea level as it stands, whatever the geoid separation', () => {
    expect(onlyMessage(GGA)).toEqual({
      kind: 'GGA',
      sender: 'GP',
      time: { seconds: 22 * 3600 + 49 * 60, periodS: 86_400 },
      channels: {
        latitudeDeg: expect.closeTo(48 + 32.3762 / 60, 10),
        longitudeDeg: expect.closeTo(9 + 3.5393 / 60, 10),
        altitudeFt: expect.closeTo(498.6 / 0.3048, 9),
      },
      fields: {
        timeOfDayS: 82_140,
        latitudeDeg: expect.closeTo(48 + 32.3762 / 60, 10),
        longitudeDeg: expect.closeTo(9 + 3.5393 / 60, 10),
        fixQuality: 1,
        satellites: 4,
        altitudeM: 498.6,
        geoidSeparationM: 48,
      },
    });
  });

  test('RMC', () => {
    // 23 March 1994, 12:35:19; 48° 7.038' N, 11° 31' E; 22.4 kt, 84.4°; variation 3.1° W.
    const day = Date.parse('1994-03-23T00:00:00Z') / 86_400_000;
    expect(onlyMessage(RMC)).toEqual({
      kind: 'RMC',
      sender: 'GP',
      time: { seconds: 45_319, periodS: 86_400, period: day },
      channels: {
        latitudeDeg: expect.closeTo(48.1173, 10),
        longitudeDeg: expect.closeTo(11 + 31 / 60, 10),
        groundspeedKt: 22.4,
        trackDeg: 84.4,
      },
      fields: {
        timeOfDayS: 45_319,
        day,
        valid: true,
        latitudeDeg: expect.closeTo(48.1173, 10),
        longitudeDeg: expect.closeTo(11 + 31 / 60, 10),
        groundspeedKt: 22.4,
        trueTrackDeg: 84.4,
        magneticVariationDeg: -3.1,
      },
    });
  });

  test('VTG', () => {
    expect(onlyMessage(VTG)).toEqual({
      kind: 'VTG',
      sender: 'XX',
      channels: { groundspeedKt: 2.91, trackDeg: 210.43 },
      fields: {
        valid: true,
        trueTrackDeg: 210.43,
        magneticTrackDeg: 209.43,
        groundspeedKt: 2.91,
        groundspeedKmh: 5.38,
      },
    });
  });
});

const position = fc.record({
  // Whole millionths of a minute: the encoder rounds to them, and would write 60 minutes for what lies between.
  latitude: fc.integer({ min: -90 * 6e7, max: 90 * 6e7 }).map((steps) => steps / 6e7),
  longitude: fc.integer({ min: -180 * 6e7, max: 180 * 6e7 }).map((steps) => steps / 6e7),
});

test('reads what nmea-simple encodes', () => {
  const packet = fc.record({
    time: fc.integer({ min: 0, max: 86_399 }),
    altitude: fc.integer({ min: -6000, max: 150_000 }).map((decimetres) => decimetres / 10),
    geoidalSeperation: fc.integer({ min: -1000, max: 1000 }).map((decimetres) => decimetres / 10),
    speedKnots: fc.integer({ min: 0, max: 50_000 }).map((hundredths) => hundredths / 100),
    track: fc.integer({ min: 0, max: 35_999 }).map((hundredths) => hundredths / 100),
  });
  fc.assert(
    fc.property(
      position,
      packet,
      ({ latitude, longitude }, { time, altitude, geoidalSeperation, speedKnots, track }) => {
        const gga = encodeNmeaPacket(
          {
            sentenceId: 'GGA',
            time: new Date(time * 1000),
            latitude,
            longitude,
            fixType: 'simulation',
            satellitesInView: 8,
            horizontalDilution: 0.9,
            altitudeMeters: altitude,
            geoidalSeperation,
          },
          'GN',
        );
        const vtg = encodeNmeaPacket(
          { sentenceId: 'VTG', trackTrue: track, trackMagnetic: 0, speedKnots, speedKmph: speedKnots * 1.852 },
          'GN',
        );
        const { messages, refused } = decode(`${gga}\r\n${vtg}\r\n`);
        expect(refused).toEqual([]);
        expect(messages).toMatchObject([
          {
            sender: 'GN',
            time: { seconds: time, periodS: 86_400 },
            channels: {
              latitudeDeg: expect.closeTo(latitude, 7),
              longitudeDeg: expect.closeTo(longitude, 7),
              altitudeFt: expect.closeTo(altitude / 0.3048, 9),
            },
            fields: { fixQuality: 8, geoidSeparationM: geoidalSeperation },
          },
          { channels: { groundspeedKt: speedKnots, trackDeg: track } },
        ]);
      },
    ),
  );
});

test('reads RMC as the parser of the package gps does', () => {
  const day = fc.date({
    min: new Date('1990-01-01T00:00:00Z'),
    max: new Date('2069-12-31T00:00:00Z'),
    noInvalidDate: true,
  });
  const tenths = (max: number) => fc.integer({ min: 0, max }).map((count) => (count / 10).toFixed(1));
  const minutes = fc.integer({ min: 0, max: 59_999 }).map((count) => (count / 1000).toFixed(3).padStart(6, '0'));
  const degrees = (max: number, width: number) =>
    fc.integer({ min: 0, max }).map((count) => String(count).padStart(width, '0'));
  fc.assert(
    fc.property(
      day,
      fc.tuple(degrees(89, 2), minutes, fc.constantFrom('N', 'S')),
      fc.tuple(degrees(179, 3), minutes, fc.constantFrom('E', 'W')),
      tenths(4999),
      tenths(3599),
      (date, [lat, latMinutes, ns], [lon, lonMinutes, ew], speed, track) => {
        const iso = date.toISOString();
        const clock = iso.slice(11, 23).replaceAll(':', '');
        const ddmmyy = iso.slice(8, 10) + iso.slice(5, 7) + iso.slice(2, 4);
        const line = sentence(
          `GPRMC,${clock},A,${lat}${latMinutes},${ns},${lon}${lonMinutes},${ew},${speed},${track},${ddmmyy},,,A`,
        );
        const other = GPS.Parse(line);
        if (other === false || other.type !== 'RMC') throw new Error(`the other parser refuses ${line}`);
        const { time, channels } = onlyMessage(line) ?? {};
        expect((time?.period ?? Number.NaN) * 86_400 + (time?.seconds ?? Number.NaN)).toBeCloseTo(
          date.getTime() / 1000,
          3,
        );
        expect(channels).toEqual({
          latitudeDeg: expect.closeTo(other.lat ?? Number.NaN, 10),
          longitudeDeg: expect.closeTo(other.lon ?? Number.NaN, 10),
          groundspeedKt: expect.closeTo((other.speed ?? Number.NaN) / 1.852, 9), // the other one gives km/h
          trackDeg: expect.closeTo(other.track ?? Number.NaN, 10),
        });
      },
    ),
  );
});

describe('what is not known is missing', () => {
  test.each([
    ['GGA without a fix', 'GPGGA,120000,4807.038,N,01131.000,E,0,00,,545.4,M,46.9,M,,'],
    ['GGA that does not say whether there is a fix', 'GPGGA,120000,4807.038,N,01131.000,E,,00,,545.4,M,46.9,M,,'],
    ['GGA with empty fields', 'GPGGA,120000,,,,,1,,,,,,,,'],
    ['RMC with a warning', 'GPRMC,120000,V,4807.038,N,01131.000,E,022.4,084.4,230394,,'],
    ['RMC of mode N', 'GPRMC,120000,A,4807.038,N,01131.000,E,022.4,084.4,230394,,,N'],
    ['RMC with empty fields', 'GPRMC,120000,A,,,,,,,230394,,'],
    ['VTG of mode N', 'GPVTG,1,T,2,M,3,N,4,K,N'],
    ['VTG with empty fields', 'GPVTG,,T,,M,,N,,K'],
    ['a sentence that breaks off with a checksum', 'GPRMC,120000,A'],
  ])('%s', (_, body) => {
    expect(onlyMessage(sentence(body))?.channels).toEqual({});
  });

  test('no time of day, no time', () => {
    expect(onlyMessage(sentence('GPRMC,,A,4807.038,N,01131.000,E,022.4,084.4,230394,,'))).not.toHaveProperty('time');
  });

  test('ground speed in km/h serves where there is none in knots', () => {
    const message = onlyMessage(sentence('GPVTG,90,T,,M,,N,185.2,K'));
    expect(message?.channels).toEqual({ groundspeedKt: expect.closeTo(100, 9), trackDeg: 90 });
  });
});

describe('fields that cannot be read are named and left out', () => {
  test.each([
    ['latitudeDeg', 'GPGGA,120000,4861.0,N,01131.000,E,1,08,,545.4,M,,M,,'],
    ['latitudeDeg', 'GPGGA,120000,9030.0,N,01131.000,E,1,08,,545.4,M,,M,,'],
    ['latitudeDeg', 'GPGGA,120000,4807.0,,01131.000,E,1,08,,545.4,M,,M,,'],
    ['longitudeDeg', 'GPGGA,120000,4807.0,N,01131.000,NE,1,08,,545.4,M,,M,,'],
    ['altitudeM', 'GPGGA,120000,4807.0,N,01131.000,E,1,08,,545.4,F,,M,,'],
    ['altitudeM', 'GPGGA,120000,4807.0,N,01131.000,E,1,08,,1e3,M,,M,,'],
    ['timeOfDayS', 'GPGGA,240000,4807.0,N,01131.000,E,1,08,,545.4,M,,M,,'],
    ['timeOfDayS', 'GPGGA,1200,4807.0,N,01131.000,E,1,08,,545.4,M,,M,,'],
    ['day', 'GPRMC,120000,A,4807.038,N,01131.000,E,022.4,084.4,310294,,'],
    ['groundspeedKt', 'GPVTG,1,T,2,M,3,K,4,K'],
  ])('%s in %s', (field, body) => {
    const { messages, refused } = decode(sentence(body));
    expect(refused).toEqual([{ reason: 'field', kind: body.slice(2, 5), field }]);
    expect(messages[0]?.fields).not.toHaveProperty(field);
  });

  test('an altitude that no sample holds', () => {
    const { messages, refused } = decode(sentence('GPGGA,120000,4807.0,N,01131.000,E,1,08,,99999,M,,M,,'));
    expect(refused).toEqual([{ reason: 'out-of-range', kind: 'GGA', field: 'altitudeFt' }]);
    expect(messages[0]?.channels).toEqual({ latitudeDeg: expect.any(Number), longitudeDeg: expect.any(Number) });
  });
});

describe('sentences', () => {
  test.each([
    ['no bytes', '', 'empty'],
    ['no sentence', 'hello', 'no-start'],
    ['a wrong checksum', GGA.replace('5E', '5F'), 'checksum'],
    ['a wrong digit', GGA.replace('498', '499'), 'checksum'],
    ['no checksum', GGA.slice(0, -3), 'no-checksum'],
    ['half a checksum', GGA.slice(0, -1), 'checksum'],
    ['a checksum cut off', GGA.slice(0, -2), 'cut-off'],
    ['no address', sentence(',1'), 'field'],
    ['no end', sentence(`GPTXT,${'x'.repeat(300)}`), 'too-long'],
  ])('%s is refused', (_, text, reason) => {
    expect(decode(text)).toEqual({ messages: [], refused: [{ reason }], passedOver: 0 });
  });

  test('several in a datagram, with any line ends, from several talkers; a bad one spoils no other', () => {
    const text = [GGA, RMC.replace('6A', '6B'), sentence('GNGSA,A,3'), sentence('PINVENTED,1'), VTG].join('\r\n');
    const { messages, refused, passedOver } = decode(`${text}\n`);
    expect(messages.map(({ kind, sender }) => [kind, sender])).toEqual([
      ['GGA', 'GP'],
      ['VTG', 'XX'],
    ]);
    expect(refused).toEqual([{ reason: 'checksum' }]);
    expect(passedOver).toBe(2);
  });

  test('a flight over midnight goes on: GGA tells no date, RMC does', () => {
    const lines = [
      'GPRMC,235959.0,A,4807.038,N,01131.000,E,60,090,311299,,',
      'GPGGA,235959.5,4807.038,N,01131.000,E,1,08,,545.4,M,,M,,',
      'GPGGA,000000.5,4807.038,N,01131.000,E,1,08,,545.4,M,,M,,',
      'GPRMC,000001.0,A,4807.038,N,01131.000,E,60,090,010100,,',
    ].map(sentence);
    const seconds = continuousTime();
    const { messages } = decode(lines.join('\n'));
    expect(messages.map(({ time }) => time && seconds(time))).toEqual([86_399, 86_399.5, 86_400.5, 86_401]);
  });
});

test('the coverage table names just what the messages fill', () => {
  expect(sourcesShown(decode([GGA, RMC, VTG].join('\n')).messages)).toEqual(sourcesClaimed(NMEA0183_COVERAGE));
});

test('damaged datagrams: no throw, nothing that is not finite or out of bounds', MUTATION_TIME, () => {
  const lines = [GGA, RMC, VTG];
  const letters = (content: Uint8Array) => String.fromCharCode(...content);
  const tally = tryMutated({
    decode: decodeNmea0183,
    datagrams: [...lines, lines.join('\r\n')].map(bytes),
    contents: lines.map((line) => bytes(line.slice(1, -3))),
    wrap: (content) => bytes(sentence(letters(content))),
  });
  expect(tally.read).toBeGreaterThan(tally.count / 20);
  expect(tally.refused).toBeGreaterThan(tally.count / 20);
});
