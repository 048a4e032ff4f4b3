import fc from 'fast-check';
import { expect, test } from 'vitest';
import { barScale, measuredText, targetText } from './barScale.js';

const delay = { measured: 4.1, target: 3, unit: 's', band: { from: null, to: 3 } };
const bank = { measured: 37, target: 45, unit: '°', band: { from: 40, to: 50 } };
const airspeed = { measured: 87, target: 85, unit: 'kt', band: { from: 80, to: 95 } };
const touchdown = { measured: 980, target: 0, unit: 'ft', band: { from: 0, to: 400 } };

test('a band open to below begins at the edge, and a mark past it lies to its right', () => {
  const scale = barScale(delay);
  expect(scale.from).toBe(0);
  expect(scale.bandFrom).toBe(0);
  expect(scale.mark as number).toBeGreaterThan(scale.bandTo);
});

test('a mark too far away stands at the edge and says on which side', () => {
  expect(barScale({ ...touchdown, measured: -6000 })).toMatchObject({ mark: 0, beyond: 'below' });
  expect(barScale({ ...touchdown, measured: 60_000 })).toMatchObject({ mark: 1, beyond: 'above' });
});

test('what was not measured has no mark', () => {
  expect(barScale({ ...bank, measured: null }).mark).toBeNull();
  expect(measuredText('bank', { ...bank, measured: null })).toBe('not measured');
});

test('the mark is in the band exactly when the measured value is', () => {
  const ft = fc.integer({ min: -900, max: 900 });
  fc.assert(
    fc.property(ft, fc.integer({ min: 1, max: 200 }), ft, (from, width, measured) => {
      const to = from + width;
      const scale = barScale({ measured, target: from, unit: 'ft', band: { from, to } });
      const mark = scale.mark as number;
      const drawnInBand = mark >= scale.bandFrom - 1e-9 && mark <= scale.bandTo + 1e-9;
      expect(drawnInBand).toBe(measured >= from && measured <= to);
      expect(scale.bandTo - scale.bandFrom).toBeGreaterThan(0.05);
    }),
  );
});

test.each([
  ['delay', delay, '3\u00a0s or less'],
  ['delay', { ...delay, band: { from: 0, to: 3 } }, '3\u00a0s or less'],
  ['bank', bank, '45° ± 5°'],
  ['airspeed', airspeed, '85\u00a0kt, +10 −5'],
  ['touchdown', touchdown, 'aim point, +400 −0 ft'],
  [
    'touchdown',
    { measured: 210, target: 300, unit: 'ft/min', band: { from: null, to: 300 } },
    '300\u00a0ft/min or less',
  ],
  ['airspeed', { ...airspeed, band: { from: 80, to: null } }, '80\u00a0kt or more'],
] as const)('the target of %s is told as %s', (name, criterion, text) => {
  expect(targetText(name, criterion)).toBe(text);
});

test('a touchdown on a runway is told from the aim point, one ahead by its sink', () => {
  expect(measuredText('touchdown', touchdown)).toBe('980\u00a0ft beyond');
  expect(measuredText('touchdown', { ...touchdown, measured: -2600 })).toBe('2,600\u00a0ft short');
  expect(measuredText('touchdown', { measured: 210, target: 300, unit: 'ft/min', band: { from: null, to: 300 } })).toBe(
    '210\u00a0ft/min',
  );
});
