import { readFileSync } from 'node:fs';
import { FlyRequest } from '@stillprop/contracts';
import { flyAttempt } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { warningsOf } from '../warnings.js';
import { flyText } from './flyText.js';

const request = (change: (data: { failure: object; technique: object }) => void = () => {}) => {
  const data = JSON.parse(
    readFileSync(new URL('../../../../fixtures/requests/reference-1000ft.json', import.meta.url), 'utf8'),
  );
  change(data);
  return FlyRequest.parse(data);
};

test('the text says what was asked, what came of it, and the caution, each figure with its unit', () => {
  const asked = request();
  const text = flyText(asked, flyAttempt(asked));
  expect(text).toContain('engine failure at 1,000 ft, 3 s delay, 45° bank, 85 kt.');
  expect(text).toContain('lands on the runway and stops on it');
  expect(text).toMatch(/Largest sink\s+1,7\d\d ft\/min/);
  expect(text).toMatch(/Failure to touchdown\s+\d+ s/);
  expect(text).toContain('no licence to try it low');
});

test('landing ahead turns nowhere, and says that 180° was not turned', () => {
  const asked = request((data) => Object.assign(data.technique, { turn: 'ahead' }));
  const text = flyText(asked, flyAttempt(asked));
  expect(text).toMatch(/Height lost to 180° of turn\s+180° was not turned/);
  expect(text).toMatch(/Runway left when stopped\s+not on the runway/);
  expect(text).not.toMatch(/to the ahead/);
});

test('a bank that the speed cannot hold is cautioned in the text, with the bank it can', () => {
  const asked = request((data) => Object.assign(data.technique, { targetKcas: 75 }));
  const text = flyText(asked, flyAttempt(asked), warningsOf(asked)).replaceAll(/\s+/g, ' ');
  expect(text).toContain('CAUTION, TECHNIQUE technique.targetKcas: 45° of bank takes 80 kt');
  expect(text).toContain('75 kt holds only 36° of bank');
  expect(text).not.toContain('DOUBTFUL');
});
