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

test('landing ahead has nothing of a turn in it', () => {
  const asked = request((data) => Object.assign(data.technique, { turn: 'ahead' }));
  const text = flyText(asked, flyAttempt(asked));
  expect(text).toContain('landing ahead at 85 kt');
  expect(text).toContain('By the model it lands ahead, outside the airfield.');
  expect(text).toMatch(/Runway left when stopped\s+it is not on the runway/);
  expect(text).not.toMatch(/Turned|180°|to the ahead|bank/);
});

test('a return that never turns is told as ahead, with what it came down on, and to no side', () => {
  const low = (heightFt: number) => {
    const asked = request((data) => Object.assign(data.failure, { heightFt }));
    return flyText(asked, flyAttempt(asked)).replaceAll(/\s+/g, ' ');
  };
  expect(low(75)).toContain('comes down AHEAD, on the runway it left, before it has turned back.');
  expect(low(150)).toContain('comes down AHEAD, inside the airfield, off the runway, before it has turned back.');
  for (const text of [low(75), low(150)]) {
    expect(text).toContain('Turned not at all');
    expect(text).not.toMatch(/to the left|0 ft (left|right)/);
  }
});

test('no figure is a zero to one side, a minus zero or has a plain hyphen for a minus', () => {
  const asked = request();
  const flown = flyAttempt(asked);
  const told = (change: object, touchdown: object = {}) =>
    flyText(asked, { ...flown, ...change, touchdown: { ...flown.touchdown, ...touchdown } });
  expect(told({ heightGainedFt: -0.2 })).toMatch(/Climbed on after the failure +0 ft/);
  expect(told({ speedLostKt: -0.04 })).toMatch(/Speed lost in the delay +0\.0 kt/);
  expect(told({ speedLostKt: -3.2 })).toMatch(/Speed gained in the delay +3\.2 kt/);
  expect(told({ stopMarginFt: -0.4 })).toMatch(/Runway left when stopped +none: 1 ft past its end/);
  expect(told({}, { acrossFt: -0.4 })).toMatch(/Touchdown from the centreline +on it/);
  expect(told({}, { alongFt: -310 })).toMatch(/Touchdown along the take-off direction +−310 ft/);
});

test('no line is wider than the sheet', () => {
  const asked = request((data) => Object.assign(data.failure, { heightFt: 75 }));
  const flown = flyAttempt(asked);
  const text = flyText(asked, { ...flown, touchdown: { ...flown.touchdown, sinkFpm: 1437 } });
  for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  expect(text).toContain('too hard');
});

test('from a recorded state it speaks of that state, not of the failure or the climb', () => {
  const asked = request();
  const start = {
    alongFt: 7849,
    acrossFt: -319,
    heightFt: 828,
    ktas: 85,
    headingTrueDeg: 45,
    verticalSpeedFpm: -1554,
    bankDeg: -46,
  };
  const from = { recording: 'flown.ndjson', attemptId: 'a', timeS: 66.81, start };
  const text = flyText(asked, flyAttempt(asked, { start }), [], from).replaceAll(/\s+/g, ' ');
  expect(text).toContain('from 828 ft, the state at 66.8 s of flown.ndjson, 3 s delay counted from there');
  expect(text).toMatch(/Height lost to 180° of turn from there \d+ ft/);
  expect(text).not.toMatch(/failure|Failure/);
});

test('a bank that the speed cannot hold is cautioned in the text, with the bank it can', () => {
  const asked = request((data) => Object.assign(data.technique, { targetKcas: 75 }));
  const text = flyText(asked, flyAttempt(asked), warningsOf(asked)).replaceAll(/\s+/g, ' ');
  expect(text).toContain('CAUTION, TECHNIQUE technique.targetKcas: 45° of bank takes 80 kt');
  expect(text).toContain('75 kt holds only 36° of bank');
  expect(text).not.toContain('DOUBTFUL');
});
