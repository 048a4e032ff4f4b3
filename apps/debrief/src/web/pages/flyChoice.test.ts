import { expect, test } from 'vitest';
import { type FlyChoice, NO_CHOICE, readChoice } from './flyChoice.js';

test('a kept choice comes back as it was', () => {
  const choice: FlyChoice = { scenarioId: 'first', linkId: 'home', student: 'Ada', pilot: 'prompt', speed: 10 };
  expect(readChoice(JSON.stringify(choice))).toEqual(choice);
});

test.each([null, '', 'half {', 'null', '[]', '7', '"x"'])('%s is no choice', (text) => {
  expect(readChoice(text)).toEqual(NO_CHOICE);
});

test('parts of the wrong kind fall back, the others stay', () => {
  const text = JSON.stringify({ scenarioId: 7, linkId: 'home', student: null, pilot: {}, speed: 3 });
  expect(readChoice(text)).toEqual({ ...NO_CHOICE, linkId: 'home' });
});
