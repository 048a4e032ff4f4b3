// Channels of the open standards keep the bounds of a sample, as its schema has them.
import { Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { channelUnit } from './slotUnits.js';
import { type ChannelValue, channelsFrom, compassDeg } from './standardChannels.js';
import type { Refusal } from './standards.js';

const CHANNELS = Object.entries(Sample.shape).flatMap(([name, field]) =>
  name !== 'timeS' && field.safeParse(0).success ? [name as ChannelValue[0]] : [],
);

test('every channel that is a number is tried', () => {
  expect(CHANNELS).toHaveLength(18); // of 21, without time and two that are true or false
});

test.each(CHANNELS)('%s is taken where the schema takes it, and named where not', (channel) => {
  const edges = [0, 1, 90, 180, 360, 400, 500, 720, 1000, 2000, 20_000, 30_000, 60_000].flatMap((edge) =>
    [edge, -edge].flatMap((value) => [value - 0.01, value, value + 0.01]),
  );
  for (const value of [...edges, -0.05, 1.5, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
    const refused: Refusal[] = [];
    const channels = channelsFrom('kind', [[channel, value, channelUnit(channel)]], refused);
    const fits = Sample.shape[channel].safeParse(value).success;
    expect(channels, `${value}`).toEqual(fits ? { [channel]: value } : {});
    expect(refused).toEqual(fits ? [] : [{ reason: 'out-of-range', kind: 'kind', field: channel }]);
  }
});

test('undefined is missing, not refused', () => {
  const refused: Refusal[] = [];
  expect(channelsFrom('kind', [['bankDeg', undefined, 'deg']], refused)).toEqual({});
  expect(refused).toEqual([]);
});

test.each([
  [0, 0],
  [-90, 270],
  [360, 0],
  [725, 5],
  [-1e-15, 0],
])('%d° on the compass is %d°', (angle, compass) => {
  expect(compassDeg(angle)).toBeCloseTo(compass, 9);
  expect(compassDeg(angle)).toBeLessThan(360);
});
