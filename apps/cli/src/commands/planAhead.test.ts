// Where the plan is to land ahead the sheet says what lies there, and nothing that leads a reader into a turn.
import { expect, test } from 'vitest';
import { ALONE, answer, request, told, tried } from './plan.fixture.js';
import { planAnswer } from './plan.js';
import type { PlanAnswer } from './planAnswer.js';
import { planText } from './planText.js';

test('a window that closes because it comes back too high says so; one that falls short does not', () => {
  const [window] = answer.returnWindows;
  if (window === undefined) throw new Error('no window');
  const closing = (stopMarginFt: number) => ({
    ...answer,
    returnWindows: [{ ...window, toIsScanEnd: false, highest: { ...window.highest, stopMarginFt } }],
  });
  expect(told(closing(2))).toContain('comes back too high to stop: circling to lose height is not computed');
  expect(told(closing(2900))).not.toContain('too high to stop');
});

test('under a verdict to land ahead nothing tells how to turn back', () => {
  const none = planText(request, { ...answer, lowestReturnFt: null, returnWindows: [] });
  expect(none).not.toMatch(/Turn {2}|WHAT EACH COSTS|CLIMB SPEED|ORDINARY ERRORS:/);
  const doubtful = planText(request, tried(200, 180, 196, 190));
  const [decision = '', behind = ''] = doubtful.split('RETURNS, FOR THE SIMULATOR: none below is to be counted on');
  expect(decision).toContain('LAND AHEAD');
  expect(decision).not.toMatch(/Turn {2}/);
  expect(behind).toMatch(/ {2}Turn {2}/);
  expect(planText(request, tried(1000, 800, 970, 975))).not.toContain('RETURNS, FOR THE SIMULATOR');
});

test('what lies straight ahead is told on the safe side', () => {
  const words = (ahead: PlanAnswer['ahead']) => told({ ...answer, ahead });
  const scannedToFt = 3000;
  expect(words({ stopsUpToFt: 114, airfieldUpToFt: 208, scannedToFt })).toContain(
    'Straight ahead stops on the runway up to 110 ft; inside the airfield up to 200 ft; from higher, beyond it (flown without error).',
  );
  expect(words({ stopsUpToFt: null, airfieldUpToFt: 128, scannedToFt })).toContain(
    'no stop on the runway from 50 ft and above',
  );
  expect(words({ stopsUpToFt: null, airfieldUpToFt: null, scannedToFt })).toContain('beyond the airfield from 50 ft');
  expect(words(null)).not.toContain('Straight ahead');
});

test('a landing ahead is planned as one: no windows, turn, spread, climb speeds or bank', async () => {
  const ahead = { ...request, technique: { ...request.technique, turn: 'ahead' as const } };
  const plan = await planAnswer(
    { request: ahead, from: null, questions: { draws: 20, fromFt: 400, toFt: 450 } },
    false,
    ALONE,
  );
  expect([plan.spread, plan.climbs, plan.heightLostByTurn, plan.sensitivity]).toEqual([null, null, [], []]);
  const sheet = planText(ahead, plan);
  expect(sheet).toMatch(/^LAND-AHEAD PLAN/);
  expect(sheet.replaceAll(/\s+/g, ' ')).toMatch(
    /From 900 ft it lands ahead, outside the airfield: 14,\d{3} ft from brake release/,
  );
  expect(sheet).not.toMatch(/WINDOWS|HEIGHT LOST|COSTS|CLIMB SPEED|ERRORS:|Flights computed|bank|TURN-BACK/);
});
