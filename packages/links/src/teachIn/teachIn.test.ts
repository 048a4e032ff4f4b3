// Offers of the teach-in: what a name means, which slot moved, which unit fits the cockpit; and the watch of a stream.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ChannelName, slotFactor, unitsFor } from '../slotUnits.js';
import { channelNamed, isReversed, unitNamed } from './channelWords.js';
import { fittingUnits } from './fittingUnits.js';
import { MANOEUVRES, movedSlots } from './movedSlots.js';
import { createSlotWatch } from './slotWatch.js';

const bytes = (text: string) => new TextEncoder().encode(text);
const manoeuvre = (id: string) => {
  const found = MANOEUVRES.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no manoeuvre ${id}`);
  return found;
};

describe('names', () => {
  test.each<[string, ChannelName | null]>([
    ['lat', 'latitudeDeg'],
    ['place.longitude', 'longitudeDeg'],
    ['roll_angle', 'bankDeg'],
    ['RollRate', null],
    ['VerticalSpeed (m/s)', 'verticalSpeedFpm'],
    ['speed.vertical', 'verticalSpeedFpm'],
    ['trueAirspeed', 'trueAirspeedKt'],
    ['Airspeed', 'indicatedAirspeedKt'],
    ['ground_speed', 'groundspeedKt'],
    ['onGround', 'onGround'],
    ['engine.rpm', 'engineRpm'],
    ['alt_m', 'altitudeFt'],
    ['heading magnetic', null],
    ['wobble', null],
  ])('%s means %s', (name, channel) => expect(channelNamed(name)).toBe(channel));

  test('units and turned signs that a name states', () => {
    expect(unitNamed('Speed (km/h)')).toBe('km/h');
    expect(unitNamed('alt_m')).toBe('m');
    expect(unitNamed('bank')).toBeNull();
    expect(isReversed('left_bank', 'bankDeg')).toBe(true);
    expect(isReversed('bank', 'bankDeg')).toBe(false);
  });
});

describe('which slot moved', () => {
  const still = [1, 1, 1, 1];
  test('the one that rested and left; a clock, a heading that drifts and one at rest are not offered before it', () => {
    const traces = [
      { slot: 'clock', before: [1, 2, 3, 4], during: [5, 6, 7, 8] },
      { slot: 'roll', before: [0.001, 0, 0.001, 0], during: [-0.1, -0.3, -0.35] },
      { slot: 'heading', before: [238, 238, 238, 238], during: [238, 237, 234] },
      { slot: 'gear', before: still, during: still },
    ];
    const moved = movedSlots(traces, manoeuvre('bank-left'));
    expect(moved[0]).toEqual({ slot: 'roll', from: 0, to: -0.35, scale: 1, unit: 'rad' });
    expect(moved.map(({ slot }) => slot)).toEqual(['roll', 'heading']);
  });

  test('a slot that went the other way is offered with its sign turned', () => {
    const traces = [{ slot: 3, before: [0, 0.1, 0], during: [12, 25] }];
    expect(movedSlots(traces, manoeuvre('bank-left'))).toEqual([{ slot: 3, from: 0, to: 25, scale: -1, unit: 'deg' }]);
  });

  test('a clock is not offered however long one watches', () => {
    const during = Array.from({ length: 100 }, (_, at) => 5 + at);
    expect(movedSlots([{ slot: 'clock', before: [1, 2, 3, 4], during }], manoeuvre('climb'))).toEqual([]);
  });

  test('what rests whatever is done is never offered', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), fc.constantFrom(...MANOEUVRES), (value, one) => {
        const steady = [value, value, value];
        expect(movedSlots([{ slot: 'x', before: steady, during: steady }], one)).toEqual([]);
      }),
    );
  });
});

describe('which unit fits the cockpit', () => {
  test('a cockpit that shows what the channel would be names unit and sign', () => {
    expect(fittingUnits('altitudeFt', 304.8, 1000)[0]).toMatchObject({ unit: 'm', scale: 1 });
    expect(fittingUnits('bankDeg', 0.35, -20)[0]).toMatchObject({ unit: 'rad', scale: -1 });
    expect(fittingUnits('indicatedAirspeedKt', 38, 74)[0]).toMatchObject({ unit: 'm/s', scale: 1 });
    expect(fittingUnits('altitudeFt', 304.8, 5000)).toEqual([]);
    expect(fittingUnits('bankDeg', 0, 0)).toEqual([]);
  });

  test('the unit in which a value was sent is always among those that fit', () => {
    const cases = fc.constantFrom<ChannelName[]>(
      'altitudeFt',
      'indicatedAirspeedKt',
      'bankDeg',
      'headingDeg',
      'verticalSpeedFpm',
    );
    fc.assert(
      fc.property(cases, fc.double({ min: 1, max: 170, noNaN: true }), fc.nat(), (channel, shown, pick) => {
        const units = unitsFor(channel);
        const unit = units[pick % units.length] ?? 'ft';
        const raw = shown / (slotFactor(unit, channel) ?? Number.NaN);
        expect(fittingUnits(channel, raw, shown)[0]?.off).toBeLessThan(1e-9);
        expect(fittingUnits(channel, raw, shown)).toContainEqual(expect.objectContaining({ unit, scale: 1 }));
      }),
    );
  });

  test('a bearing is compared round the circle', () => {
    expect(fittingUnits('headingDeg', 359, 1)[0]).toMatchObject({ unit: 'deg', scale: 1 });
  });
});

describe('the watch', () => {
  test('newest, lowest and highest of each slot, and whether it moves', () => {
    const watch = createSlotWatch();
    for (const [at, text] of ['t=1;alt=100;name=A', 't=2;alt=90;name=A', 't=3;alt=95;name=A'].entries())
      watch.give(bytes(text), at);
    expect(watch.slots()).toMatchObject([
      { slot: 't', newest: 3, lowest: 1, highest: 3, moves: true, suggestion: { channel: 'timeS', unit: 's' } },
      { slot: 'alt', newest: 95, lowest: 90, highest: 100, moves: true, suggestion: { channel: 'altitudeFt' } },
      { slot: 'name', newest: 'A', lowest: null, moves: false, suggestion: null },
    ]);
  });

  test('a stream that changes its form is read anew', () => {
    const watch = createSlotWatch();
    for (let at = 0; at < 300; at += 1) watch.give(bytes(`${at};${at / 2};7`), at);
    expect(watch.shape()?.decoder.kind).toBe('delimited');
    for (let at = 0; at < 100; at += 1) watch.give(bytes(JSON.stringify({ alt: at })), at);
    expect(watch.slots()).toMatchObject([{ slot: 'alt', newest: 99 }]);
  });

  test('units are offered by name, or where the numbers can be radians only; at rest none is guessed', () => {
    const watch = createSlotWatch();
    for (let at = 0; at < 9; at += 1) {
      watch.give(
        bytes(
          JSON.stringify({
            lat: 0.909,
            lon: -0.032,
            roll: at / 10,
            pitch: 0.01,
            yaw: 230 + at,
            speed_kmh: 1,
            power: 90,
          }),
        ),
        at,
      );
    }
    const offered = watch.slots().map(({ suggestion }) => suggestion && [suggestion.channel, suggestion.unit]);
    expect(offered).toEqual([
      ['latitudeDeg', 'rad'],
      ['longitudeDeg', 'rad'],
      ['bankDeg', 'rad'],
      ['pitchDeg', 'deg'],
      ['headingDeg', 'deg'],
      null,
      ['powerFraction', 'percent'],
    ]);
    const degrees = createSlotWatch();
    for (let at = 0; at < 9; at += 1)
      degrees.give(bytes(JSON.stringify({ lat: 52.1, lon: -1.8, roll: at - 5, ias_kmh: 90 })), at);
    expect(degrees.slots().map(({ suggestion }) => suggestion?.unit)).toEqual(['deg', 'deg', 'deg', 'km/h']);
  });

  test('columns are named by number, and none is suggested', () => {
    const watch = createSlotWatch();
    watch.give(bytes('1,5;2,5;3,5'), 0);
    expect(watch.slots()).toMatchObject([{ slot: 0, newest: 1.5, suggestion: null }, { newest: 2.5 }, { newest: 3.5 }]);
  });
});
