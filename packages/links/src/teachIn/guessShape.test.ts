// Each form is recognised from its own bytes: those of the profiles that ship, and of the open standards.
import type { LinkProfile, Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { encodeRow } from '../encoders.fixture.js';
import { earthFixed, encoded } from '../entityState/openDis.fixture.js';
import { framed, HEARTBEAT_FRAME, hexBytes, OWNSHIP_CONTENT } from '../gdl90/gdl90.fixture.js';
import { fixtureProfile } from '../links.fixture.js';
import { fromHex, LIBRARY } from '../mavlink2/libraryPackets.fixture.js';
import { readerOf } from '../readers.js';
import { standInJson, standInText } from '../standIn.js';
import { guessShape } from './guessShape.js';

const bytes = (text: string) => new TextEncoder().encode(text);
const shapeOf = (...texts: string[]) => guessShape(texts.map(bytes));

/** A climb as a simulator would tell it, invented. */
function sampleAt(second: number): Sample {
  return {
    timeS: second,
    latitudeDeg: 52.1 + second * 0.0004,
    longitudeDeg: -1.8 + second * 0.0001,
    altitudeFt: 300 + second * 15,
    indicatedAirspeedKt: 74 + Math.sin(second / 5),
    headingDeg: 238 + second / 3,
    bankDeg: 2 + Math.sin(second / 7) * 8,
    pitchDeg: 7 + Math.sin(second / 9),
    verticalSpeedFpm: 880 + Math.sin(second / 4) * 50,
    engineRpm: 2400 + second,
  };
}
const seconds = Array.from({ length: 30 }, (_, second) => second);

describe('the formats that ship', () => {
  test('the stand-in’s text: columns between commas behind a tag', () => {
    const shape = guessShape(seconds.map((second) => standInText(sampleAt(second))));
    expect(shape?.decoder).toMatchObject({ kind: 'delimited', separator: ',', decimal: '.', startsWith: 'SP1,' });
    expect(shape?.slots).toEqual(Array.from({ length: 20 }, (_, at) => at + 1));
  });

  test('the stand-in’s JSON: the paths of its numbers', () => {
    const shape = guessShape(seconds.map((second) => standInJson(sampleAt(second))));
    expect(shape?.decoder).toEqual({ kind: 'json' });
    expect(shape?.slots).toEqual(
      expect.arrayContaining(['clock.seconds', 'place.latitude', 'attitude.bank', 'engine.rpm']),
    );
  });

  test('names with values and a decimal comma', () => {
    const profile = fixtureProfile('example-key-value');
    const shape = guessShape(seconds.map((second) => rowOf(profile, second + 0.5)));
    expect(shape?.decoder).toMatchObject({ ...profile.decoder });
    expect(shape?.slots).toEqual(expect.arrayContaining(['t', 'lat', 'left_bank', 'power']));
  });

  test('columns between tabs with a header line', () => {
    const profile = fixtureProfile('example-header-line');
    const names = Object.values(profile.channels).map((source) => source?.slot);
    const rows = seconds.map((second) => rowOf(profile, second));
    const shape = guessShape([bytes(`${names.join('\t')}\n`), ...rows]);
    expect(shape?.decoder).toMatchObject({ kind: 'delimited', separator: '\t', header: true });
    expect(shape?.slots).toEqual(names);
  });

  test('binary records: where they begin, how long they are, how they are told apart and what they hold', () => {
    const profile = fixtureProfile('example-binary-records');
    const shape = guessShape(seconds.map((second) => rowOf(profile, 20 + second)));
    const { decoder } = profile;
    if (decoder.kind !== 'binary') throw new Error('the example has changed its kind');
    expect(shape?.decoder).toMatchObject({
      match: [{ offset: 0, text: 'FLYR' }],
      littleEndian: true,
      records: { firstOffset: 10, lengthBytes: 36, index: { offset: 0, type: 'int32' } },
    });
    const read =
      shape?.decoder.kind === 'binary' ? shape.decoder.records?.fields.map(({ offset, type }) => [offset, type]) : [];
    expect(read).toEqual(decoder.records?.fields.map(({ offset, type }) => [offset, type]));
  });

  function rowOf(profile: LinkProfile, second: number): Uint8Array {
    const raw = Object.values(profile.channels).map((source, at) => [
      String(source?.slot),
      10 * (at + 1) + second * 0.25,
    ]);
    return encodeRow(profile, Object.fromEntries(raw));
  }
});

describe('the open standards', () => {
  test('NMEA 0183, by published sentences', () => {
    const shape = shapeOf(
      '$GPGGA,224900.000,4832.3762,N,00903.5393,E,1,04,7.8,498.6,M,48.0,M,,0000*5E\r\n',
      '$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\r\n',
    );
    expect(shape).toMatchObject({ words: 'NMEA 0183', decoder: { kind: 'nmea0183' } });
    expect(shape?.slots).toEqual(expect.arrayContaining(['timeS', 'latitudeDeg', 'altitudeFt', 'groundspeedKt']));
  });

  test('GDL 90, by the example frames of its interface document', () => {
    const shape = guessShape([hexBytes(HEARTBEAT_FRAME), framed(hexBytes(OWNSHIP_CONTENT))]);
    expect(shape).toMatchObject({ words: 'GDL 90', decoder: { kind: 'gdl90' } });
    expect(shape?.slots).not.toContain('bankDeg');
  });

  test('MAVLink 2, by packets of another encoder', () => {
    const shape = guessShape(LIBRARY.frames.map(({ hex }) => fromHex(hex)));
    expect(shape).toMatchObject({ decoder: { kind: 'mavlink2' } });
    expect(shape?.slots).toEqual(expect.arrayContaining(['bankDeg', 'indicatedAirspeedKt']));
  });

  test('IEEE 1278.1, by datagrams of another encoder', () => {
    const datagrams = seconds.map((second) =>
      encoded({
        version: 7,
        ids: [1, 2, 3, 4],
        timestamp: second * 1000,
        location: earthFixed(52.1, -1.8, 100 + second),
        velocity: { x: 30, y: 0, z: 0 },
        orientation: [0.1, 0.2, 0.3],
        deadReckoning: 2,
        marking: 'N825V',
      }),
    );
    expect(guessShape(datagrams)).toMatchObject({ decoder: { kind: 'entityState' } });
  });
});

test('a decimal comma is told from a comma that separates', () => {
  expect(shapeOf('1,5;2,5;3,25', '1,6;2,5;-3,3')?.decoder).toMatchObject({ separator: ';', decimal: ',' });
  expect(shapeOf('1,5,25', '1,6,26')?.decoder).toMatchObject({ separator: ',', decimal: '.' });
  expect(shapeOf('1.5;2.5;3', '1.6;2.5;4')?.decoder).toMatchObject({ separator: ';', decimal: '.' });
});

test('columns padded with spaces', () => {
  expect(shapeOf(' 1.5   2.5    3', '10.5  12.5   13')?.decoder).toMatchObject({ separator: ' ', repeats: true });
});

test('one pair a line is one sample a message', () => {
  const shape = shapeOf('alt: 100\nias: 60\nbank: 2\n', 'alt: 101\nias: 61\nbank: 2\n');
  expect(shape?.decoder).toMatchObject({ kind: 'keyValue', keySeparator: ':', samplePer: 'message' });
  expect(shape?.slots).toEqual(['alt', 'ias', 'bank']);
});

test('a word before the first name is no name', () => {
  const shape = shapeOf('STATE t=1;alt=100;ias=60', 'STATE t=2;alt=101;ias=60');
  expect(shape?.slots).toEqual(['t', 'alt', 'ias']);
  expect(shape?.decoder).toMatchObject({ startsWith: 'STATE ' });
});

test('prose and noise have no shape', () => {
  expect(shapeOf('hello there, this is a simulator', 'and it says something else, now')).toBeNull();
  expect(guessShape([])).toBeNull();
  expect(guessShape([new Uint8Array()])).toBeNull();
});

test('binary floats at any offset and in either order are found by how they move', () => {
  fc.assert(
    fc.property(
      fc.record({ little: fc.boolean(), double: fc.boolean(), lead: fc.nat({ max: 7 }) }),
      ({ little, double, lead }) => {
        const width = double ? 8 : 4;
        const messages = seconds.map((second) => {
          const view = new DataView(new ArrayBuffer(lead + 4 * width));
          for (const [at, value] of [
            52.1 + second * 0.013,
            301.7 + second * 7.3,
            -7.3 + second * 0.31,
            74.11 + second * 0.57,
          ].entries()) {
            if (double) view.setFloat64(lead + at * width, value, little);
            else view.setFloat32(lead + at * width, value, little);
          }
          return new Uint8Array(view.buffer);
        });
        const shape = guessShape(messages);
        if (shape?.decoder.kind !== 'binary') throw new Error('no layout was found');
        expect(shape.decoder.littleEndian).toBe(little);
        const type = double ? 'float64' : 'float32';
        for (const at of [0, 1, 2, 3]) {
          expect(shape.decoder.fields).toContainEqual({
            name: `at${lead + at * width}`,
            offset: lead + at * width,
            type,
          });
        }
      },
    ),
  );
});

test('columns of numbers written in any of the usual ways read as the numbers they were', () => {
  const form = fc.constantFrom(
    ...([';', '\t', '|', ' '] as const).flatMap((separator) => [
      { separator, decimal: '.' as const },
      { separator, decimal: ',' as const },
    ]),
    { separator: ',' as const, decimal: '.' as const },
  );
  const numbers = fc.array(fc.integer({ min: -99_999, max: 99_999 }), { minLength: 4, maxLength: 20 });
  fc.assert(
    fc.property(form, numbers, ({ separator, decimal }, whole) => {
      const values = whole.map((value) => value + Math.sign(value + 0.5) * 0.25);
      const message = bytes(values.map((value) => String(value).replace('.', decimal)).join(separator));
      const shape = guessShape([message, message]);
      if (shape === null) throw new Error('no shape was found');
      expect(shape.decoder).toMatchObject({ kind: 'delimited', separator, decimal });
      expect(readerOf(shape.decoder, shape.slots)(message, 0)).toEqual([values]);
    }),
  );
});

test('no bytes make a guess throw', () => {
  fc.assert(
    fc.property(fc.array(fc.uint8Array({ maxLength: 60 }), { maxLength: 12 }), (messages) => void guessShape(messages)),
  );
  fc.assert(fc.property(fc.array(fc.string(), { maxLength: 12 }), (texts) => void shapeOf(...texts)));
});
