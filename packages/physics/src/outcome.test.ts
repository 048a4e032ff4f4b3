// What a contact comes to: the six outcomes and their limits.
import { expect, test } from 'vitest';
import { groundRollM } from './groundRoll.js';
import { judgeContact } from './outcome.js';
import { requestR } from './reference.fixture.js';
import { BANK, STATE_SIZE, VX, VY, X, Y } from './state.js';
import { M_PER_FT } from './units.js';

const { runway } = requestR();
function contact(along: number, across: number, trackOffDeg: number, bankDeg: number, rollFt = 1500, stalled = false) {
  const state = new Float64Array(STATE_SIZE);
  state[X] = along * M_PER_FT;
  state[Y] = across * M_PER_FT;
  state[VX] = -40 * Math.cos((trackOffDeg * Math.PI) / 180);
  state[VY] = -40 * Math.sin((trackOffDeg * Math.PI) / 180);
  state[BANK] = (bankDeg * Math.PI) / 180;
  return judgeContact(state, runway, -1, rollFt * M_PER_FT, stalled);
}

test.each([
  { at: [3000, 0, 0, 0], outcome: 'stopped-on-runway' },
  { at: [3000, 37, 14, -9], outcome: 'stopped-on-runway' },
  { at: [1400, 0, 0, 0], outcome: 'overrun' },
  { at: [3000, 39, 0, 0], outcome: 'on-airfield' },
  { at: [3000, 0, 16, 0], outcome: 'on-airfield' },
  { at: [4001, 0, 0, 0], outcome: 'on-airfield' },
  { at: [4601, 0, 0, 0], outcome: 'off-airfield' },
  { at: [3000, -501, 0, 0], outcome: 'off-airfield' },
  { at: [3000, 0, 0, 11], outcome: 'wing-low-contact' },
])('$at is $outcome', ({ at, outcome }) => {
  const [along = 0, across = 0, off = 0, bank = 0] = at;
  expect(contact(along, across, off, bank).outcome).toBe(outcome);
});

test('a stall on the way outranks where it ended', () => {
  expect(contact(3000, 0, 0, 0, 1500, true).outcome).toBe('stall');
});

test('the margin is the runway left, negative past its end, and unknown off the runway', () => {
  expect((contact(3000, 0, 0, 0).stopMarginM ?? 0) / M_PER_FT).toBeCloseTo(1500, 6);
  expect((contact(1400, 0, 0, 0).stopMarginM ?? 0) / M_PER_FT).toBeCloseTo(-100, 6);
  expect(contact(4200, 0, 0, 0).stopMarginM).toBeNull();
});

test('a track to the right of the landing direction is a positive heading error', () => {
  expect(contact(3000, 0, 5, 0).headingErrorRad).toBeCloseTo((5 * Math.PI) / 180, 9);
});

test('the roll goes with the square of the groundspeed and with the surface', () => {
  expect(groundRollM(270, 33, 30, 'paved')).toBeCloseTo(270 * 1.21, 9);
  expect(groundRollM(270, 30, 30, 'wet-grass')).toBeCloseTo(270 * 1.35, 9);
});
