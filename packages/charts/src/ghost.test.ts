import { expect, test } from 'vitest';
import { type Ghost, ghostAt } from './ghost.js';

const none = [0, 0, 0];
const ghost: Ghost = {
  timeS: [60, 62, 66],
  heightFt: [1000, 980, 900],
  alongFt: none,
  acrossFt: none,
  airspeedKcas: none,
  bankDeg: none,
  verticalSpeedFpm: none,
};

test.each([
  [59.9, null],
  [60, 1000],
  [61, 990],
  [62, 980],
  [65, 920],
  [66, 900],
  [66.1, null],
])('the ghost at %s s stands between its rows', (atS, heightFt) => {
  expect(ghostAt(ghost, 'heightFt', atS)).toBe(heightFt);
});

test('two rows of one moment and no rows at all give no NaN', () => {
  expect(ghostAt({ ...ghost, timeS: [60, 60, 66] }, 'heightFt', 60)).toBe(1000);
  expect(ghostAt({ ...ghost, timeS: [] }, 'heightFt', 60)).toBeNull();
});
