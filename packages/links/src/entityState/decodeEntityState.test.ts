// IEEE 1278.1 entity states against a registry library as the sending side, a published example, and damage.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { continuousTime } from '../continuousTime.js';
import { sourcesClaimed, sourcesShown } from '../coverage.fixture.js';
import { MUTATION_TIME, tryMutated } from '../mutated.fixture.js';
import { decodeEntityState, ENTITY_STATE_COVERAGE } from './decodeEntityState.js';
import { earthFixed, encoded, type Sent } from './openDis.fixture.js';

const RAD = Math.PI / 180;
const KT = 1852 / 3600; // m/s
const FPM = 0.3048 / 60; // m/s

const level: Sent = {
  version: 7,
  ids: [1, 2, 3, 4],
  timestamp: 0,
  location: earthFixed(-34.9, 138.5, 300),
  velocity: { x: 0, y: 0, z: 0 },
  orientation: [-122.97 * RAD, 47.79 * RAD, -29.67 * RAD],
  deadReckoning: 2,
  marking: 'INVENTED',
};
const changed = (changes: Partial<Sent>) => encoded({ ...level, ...changes });
const onlyMessage = (datagram: Uint8Array) => {
  const { messages, refused } = decodeEntityState(datagram);
  expect(refused).toEqual([]);
  expect(messages).toHaveLength(1);
  return messages[0];
};
/** The datagram with bytes written over from an offset on. */
const patched = (datagram: Uint8Array, at: number, ...bytes: number[]) => {
  const copy = datagram.slice();
  copy.set(bytes, at);
  return copy;
};

test.each([6, 7] as const)('reads what open-dis encodes, edition %d', (version) => {
  expect(onlyMessage(changed({ version, timestamp: 2 ** 31 + 1 }))).toEqual({
    kind: 'entityState',
    sender: '1:2:3:4',
    time: { seconds: 1800, periodS: 3600 },
    channels: expect.anything(),
    fields: expect.objectContaining({
      exerciseId: 1,
      siteId: 2,
      applicationId: 3,
      entityId: 4,
      entityKind: 1,
      entityDomain: 2,
      marking: 'INVENTED',
      absoluteTime: true,
      deadReckoning: 2,
      northMps: 0,
      latitudeDeg: expect.closeTo(-34.9, 8),
      longitudeDeg: expect.closeTo(138.5, 9),
      ellipsoidHeightM: expect.closeTo(300, 3), // the library's minor axis is rounded to 0.1 mm
    }),
  });
});

test('orientation of the published example', () => {
  // D. Koks, "Using Rotations to Build Aerospace Coordinate Systems", DSTO-TN-0640 (2008), from memory: over Adelaide
  // (34.9° S, 138.5° E) an aeroplane that heads 135°, pitched 20° up and banked 30° right, has psi -122.97°,
  // theta 47.79°, phi -29.67°. The angles were rounded to 0.01°.
  expect(onlyMessage(encoded(level))?.channels).toMatchObject({
    headingDeg: expect.closeTo(135, 1),
    pitchDeg: expect.closeTo(20, 1),
    bankDeg: expect.closeTo(30, 1),
  });
});

/** Vector turned about a unit axis, by Rodrigues' formula. */
type V = [number, number, number];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scale = (a: V, by: number): V => [a[0] * by, a[1] * by, a[2] * by];
const sum = (...vectors: V[]): V =>
  vectors.reduce((total, v) => [total[0] + v[0], total[1] + v[1], total[2] + v[2]], [0, 0, 0] as V);
const turned = (v: V, axis: V, angle: number): V => {
  const along = v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2];
  return sum(
    scale(v, Math.cos(angle)),
    scale(cross(axis, v), Math.sin(angle)),
    scale(axis, along * (1 - Math.cos(angle))),
  );
};
/** North, east and down at a place, by turning those of 0° N 0° E. */
const axesAt = (latitudeDeg: number, longitudeDeg: number): [V, V, V] => {
  const z: V = [0, 0, 1];
  const east = turned([0, 1, 0], z, longitudeDeg * RAD);
  const turn = (v: V) => turned(turned(v, z, longitudeDeg * RAD), east, -latitudeDeg * RAD);
  return [turn([0, 0, 1]), east, turn([-1, 0, 0])];
};

const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const flight = fc.record({
  latitude: double(-89.9, 89.9),
  longitude: double(-179.9, 179.9),
  height: double(-300, 10_000),
  heading: double(0, 360),
  pitch: double(-85, 85),
  bank: double(-179, 179),
  forward: double(20, 100),
  sideways: double(-10, 10),
  sink: double(-10, 10),
  deadReckoning: fc.integer({ min: 0, max: 9 }),
});

test('attitude and velocity come back from any place, heading, pitch and bank', () => {
  fc.assert(
    fc.property(
      flight,
      ({ latitude, longitude, height, heading, pitch, bank, forward, sideways, sink, deadReckoning }) => {
        // The body's axes, built by turning the local ones by heading, pitch and bank, each about the axis it is about.
        const [north, east, down] = axesAt(latitude, longitude);
        let body: [V, V, V] = [north, east, down];
        const turnAll = (axis: V, angle: number) => {
          body = body.map((v) => turned(v, axis, angle * RAD)) as [V, V, V];
        };
        turnAll(down, heading);
        turnAll(body[1], pitch);
        turnAll(body[0], bank);
        const [ahead, right, below] = body;
        const orientation = [
          Math.atan2(ahead[1], ahead[0]),
          -Math.asin(ahead[2]),
          Math.atan2(right[2], below[2]),
        ] as const;
        fc.pre(Math.abs(ahead[2]) < 0.9999); // near ±90° Euler angles lose digits to the sender's single precision
        const inEarth = sum(scale(ahead, forward), scale(right, sideways), scale(below, sink));
        const sent = deadReckoning >= 6 ? ([forward, sideways, sink] as const) : inEarth;
        const { channels } =
          onlyMessage(
            changed({
              location: earthFixed(latitude, longitude, height),
              velocity: { x: sent[0], y: sent[1], z: sent[2] },
              orientation,
              deadReckoning,
            }),
          ) ?? {};
        const along = (axis: V) => inEarth[0] * axis[0] + inEarth[1] * axis[1] + inEarth[2] * axis[2];
        const angleBetween = (a: number, b: number) => Math.abs(((a - b + 540) % 360) - 180);
        expect(channels?.latitudeDeg).toBeCloseTo(latitude, 7);
        expect(channels?.longitudeDeg).toBeCloseTo(longitude, 9);
        expect(channels?.altitudeFt).toBeCloseTo(height / 0.3048, 2);
        // Single precision of the angles, 1e-7 of π, grows by 1/cos(pitch) and by that of theta, each below 100.
        expect(angleBetween(channels?.headingDeg ?? Number.NaN, heading)).toBeLessThan(0.05);
        expect(channels?.pitchDeg).toBeCloseTo(pitch, 2);
        expect(angleBetween(channels?.bankDeg ?? Number.NaN, bank)).toBeLessThan(0.05);
        const speed = Math.hypot(along(north), along(east));
        expect(channels?.groundspeedKt).toBeCloseTo(speed / KT, 1);
        expect(channels?.verticalSpeedFpm).toBeCloseTo(-along(down) / FPM, 0);
        if (speed > 5) {
          const track = Math.atan2(along(east), along(north)) / RAD;
          expect(angleBetween(channels?.trackDeg ?? Number.NaN, track)).toBeLessThan(0.1);
        }
      },
    ),
  );
});

test.each([
  [90, 0],
  [-90, 45],
  [0, 180],
  [0, 0],
])('place at %d° N, %d° E', (latitude, longitude) => {
  const { channels } = onlyMessage(changed({ location: earthFixed(latitude, longitude, 300) })) ?? {};
  expect(channels?.latitudeDeg).toBeCloseTo(latitude, 7);
  expect(channels?.altitudeFt).toBeCloseTo(300 / 0.3048, 2);
});

test('at rest there is a ground speed and no track', () => {
  const { channels } = onlyMessage(encoded(level)) ?? {};
  expect(channels).toMatchObject({ groundspeedKt: 0 });
  expect(channels).not.toHaveProperty('trackDeg');
});

test('the clock goes on over the hour', () => {
  const hours = continuousTime();
  const at = (share: number) => onlyMessage(changed({ timestamp: Math.floor(share * 2 ** 31) * 2 }))?.time;
  const seconds = [0.999, 0.001, 0.5].map((share) => {
    const time = at(share);
    return time && hours(time);
  });
  expect(seconds).toEqual([expect.closeTo(3596.4, 3), expect.closeTo(3603.6, 3), expect.closeTo(5400, 3)]);
});

describe('datagrams', () => {
  test('several units, several entities, other units passed over, filled up to whole eights', () => {
    const other = patched(encoded(level), 2, 2); // type 2: not an entity state
    const odd = patched(encoded(level).subarray(0, 20), 2, 22).slice();
    odd.set([0, 20], 8);
    const bundle = [encoded(level), other, odd, new Uint8Array(4), changed({ ids: [9, 8, 7, 6] })];
    const { messages, refused, passedOver } = decodeEntityState(Uint8Array.from(bundle.flatMap((unit) => [...unit])));
    expect(messages.map(({ sender }) => sender)).toEqual(['1:2:3:4', '9:8:7:6']);
    expect({ refused, passedOver }).toEqual({ refused: [], passedOver: 2 });
  });

  test('articulated parts are skipped', () => {
    const long = new Uint8Array(144 + 32);
    long.set(encoded(level));
    long.set([0, 144 + 32], 8);
    long[19] = 2;
    expect(onlyMessage(long)?.sender).toBe('1:2:3:4');
  });

  const notANumber = [0x7f, 0xc0, 0, 0];
  test.each([
    ['no bytes', new Uint8Array(), { reason: 'empty' }],
    ['another version', patched(encoded(level), 0, 4), { reason: 'version' }],
    ['an end too soon', encoded(level).subarray(0, 143), { reason: 'cut-off' }],
    ['a header cut off', encoded(level).subarray(0, 11), { reason: 'cut-off' }],
    ['a length below the header’s', patched(encoded(level), 8, 0, 11), { reason: 'length' }],
    ['a length without what it holds', patched(encoded(level), 19, 1), { reason: 'length', kind: 'entityState' }],
    ['the middle of the earth', changed({ location: { x: 0, y: 0, z: 0 } }), { reason: 'place', kind: 'entityState' }],
    ['orbit', changed({ location: { x: 7e6, y: 0, z: 0 } }), { reason: 'place', kind: 'entityState' }],
    [
      'no number as a place',
      changed({ location: { x: Number.NaN, y: 0, z: 0 } }),
      { reason: 'place', kind: 'entityState' },
    ],
  ])('%s is refused', (_, datagram, refusal) => {
    expect(decodeEntityState(datagram)).toEqual({ messages: [], refused: [refusal], passedOver: 0 });
  });

  test('bytes after a unit that begin none are refused, the unit is read', () => {
    const { messages, refused } = decodeEntityState(Uint8Array.from([...encoded(level), 99, 1, 2]));
    expect(messages).toHaveLength(1);
    expect(refused).toEqual([{ reason: 'no-start' }]);
  });

  test('an orientation or velocity that is no number is left out and named', () => {
    const noAttitude = decodeEntityState(patched(encoded(level), 72, ...notANumber));
    expect(noAttitude.refused).toEqual([{ reason: 'field', kind: 'entityState', field: 'orientation' }]);
    expect(noAttitude.messages[0]?.channels).not.toHaveProperty('bankDeg');
    expect(noAttitude.messages[0]?.channels).toHaveProperty('groundspeedKt');

    const noVelocity = decodeEntityState(patched(encoded(level), 36, ...notANumber));
    expect(noVelocity.refused).toEqual([{ reason: 'field', kind: 'entityState', field: 'velocity' }]);
    expect(noVelocity.messages[0]?.channels).not.toHaveProperty('groundspeedKt');
    expect(noVelocity.messages[0]?.channels).toHaveProperty('bankDeg');
  });

  test('a marking of other characters is left out', () => {
    expect(onlyMessage(patched(encoded(level), 130, 7))?.fields).not.toHaveProperty('marking');
    expect(onlyMessage(patched(encoded(level), 128, 2))?.fields).not.toHaveProperty('marking');
  });
});

test('the coverage table names just what the messages fill', () => {
  const moving = changed({ velocity: { x: 30, y: 30, z: 30 } });
  expect(sourcesShown(decodeEntityState(moving).messages)).toEqual(sourcesClaimed(ENTITY_STATE_COVERAGE));
});

test('damaged datagrams: no throw, nothing that is not finite or out of bounds', MUTATION_TIME, () => {
  const units = [
    encoded(level),
    changed({ deadReckoning: 8, velocity: { x: 40, y: 1, z: 2 } }),
    changed({ version: 6 }),
  ];
  const tally = tryMutated({
    decode: decodeEntityState,
    datagrams: [...units, Uint8Array.from(units.flatMap((unit) => [...unit]))],
    contents: units,
    // There is no check sum; what guards a unit is its length.
    wrap: (content) => (content.length < 144 ? content : patched(content.slice(0, 144), 8, 0, 144)),
  });
  expect(tally.read).toBeGreaterThan(tally.count / 20);
  expect(tally.refused).toBeGreaterThan(tally.count / 20);
});
