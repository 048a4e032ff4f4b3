// A plan from a recorded state speaks of that state, and tells no height to spare where there is none.
import { expect, test } from 'vitest';
import { ALONE, answer, request, told } from './plan.fixture.js';
import { planAnswer } from './plan.js';
import type { PlanAnswer } from './planAnswer.js';
import { planText } from './planText.js';

const stateAt = (heightFt: number, change: object = {}): PlanAnswer => ({
  ...answer,
  climbs: null,
  ahead: null,
  from: {
    recording: 'flown.ndjson',
    attemptId: 'a',
    timeS: 66.8,
    start: {
      alongFt: 7849,
      acrossFt: -319,
      heightFt,
      ktas: 85,
      headingTrueDeg: 45,
      verticalSpeedFpm: 1226,
      bankDeg: 0,
      ...change,
    },
  },
});

test('above a window that has closed there is nothing to spare', () => {
  const stops = answer.returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  const [first, second] = stops;
  if (first === undefined || second === undefined || stops.at(-1)?.toIsScanEnd) throw new Error('two closed windows');
  const high = told(stateAt((stops.at(-1)?.toFt ?? 0) + 300));
  expect(high).toContain('A return needed less height, 300 ft too many: it works from');
  expect(high).not.toContain('to spare');
  expect(told(stateAt((first.toFt + second.fromFt) / 2))).toContain('another height, this one lies between');
  expect(told(stateAt(first.fromFt + 50))).toMatch(/50 ft to spare \(it works up to [\d,]+ ft\)/);
  expect(told(stateAt(first.fromFt - 50))).toContain('50 ft too few');
});

test('from a state in a turn nothing is said of the climb, and what the delay means there is', () => {
  const text = planText(request, stateAt(600, { bankDeg: -46, verticalSpeedFpm: -1554 }));
  expect(text).not.toMatch(/Climb|climb speed|HEIGHT LOST/);
  const flat = text.replaceAll(/\s+/g, ' ');
  expect(flat).toContain('3 s delay, counted from the state below');
  expect(flat).toContain('46° bank to the left, 7,849 ft along from brake release, 319 ft left of the centreline');
  expect(flat).toContain('if they were over by then, ask with a --technique whose delayS is 0');
});

test('from a recorded state a technique that lands ahead is planned as a return, and that is said', async () => {
  const ahead = { ...request, technique: { ...request.technique, turn: 'ahead' as const } };
  const { from } = stateAt(900);
  if (from === undefined) throw new Error('no state');
  const plan = await planAnswer(
    { request: ahead, from, questions: { draws: 0, fromFt: 400, toFt: 450 } },
    false,
    ALONE,
  );
  expect(plan.plannedAsReturn).toBe(true);
  expect(told(plan)).toContain('The technique given lands ahead: planned here is a return to the better side instead.');
});
