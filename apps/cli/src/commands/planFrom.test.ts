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
  const [window] = answer.returnWindows;
  if (window === undefined) throw new Error('no window');
  const closed = { ...window, fromIsScanEnd: false, toIsScanEnd: false };
  const from = (heightFt: number) =>
    told({
      ...stateAt(heightFt),
      returnWindows: [
        { ...closed, fromFt: 403, toFt: 598 },
        { ...closed, fromFt: 700, toFt: 800 },
      ],
    });
  expect(from(1100)).toContain(
    'A return needed less height, 300 ft too many: it works from 410 ft to 590 ft; 700 ft to 800 ft',
  );
  expect(from(1100)).not.toContain('to spare');
  expect(from(650)).toContain('another height, this one lies between');
  expect(from(453)).toContain('A return needed 403 ft: 50 ft to spare (it works up to 598 ft)');
  expect(from(353)).toContain('A return needed 403 ft: 50 ft too few');
});

test('a band too narrow to plan with is not the height a return needed', () => {
  const [window] = answer.returnWindows;
  if (window === undefined) throw new Error('no window');
  const band = { ...window, fromFt: 262, toFt: 274, toIsScanEnd: false };
  const above = { ...window, fromFt: 400, toFt: 900, toIsScanEnd: false };
  const from = (heightFt: number, ...returnWindows: PlanAnswer['returnWindows']) =>
    told({ ...stateAt(heightFt), returnWindows });
  expect(from(200, band, above)).toContain('A return needed 400 ft: 200 ft too few');
  expect(from(300, band, above)).toContain('A return needed 400 ft: 100 ft too few');
  expect(from(270, band, above)).toContain(
    'A return needed 400 ft: 130 ft too few (it works from 262 to 274 ft only too, by luck: less than 50 ft wide)',
  );
  expect(from(200, band)).toContain('A return needed none from 100 ft to 1,500 ft works');
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
