// A plan as a pilot reads it, and as values: every figure is the plan's, on the safe side, on one page.
import { expect, test } from 'vitest';
import { countedOn } from './countedOn.js';
import { ALONE, answer, figure, request, told, tried } from './plan.fixture.js';
import { planAnswer } from './plan.js';
import type { PlanAnswer } from './planAnswer.js';
import { checkTableName, planCsv, TABLE_NAMES } from './planCsv.js';
import { planText } from './planText.js';

const text = planText(request, answer);

test('it fits one page and names the caution', () => {
  const lines = text.trimEnd().split('\n');
  expect(lines.length).toBeLessThanOrEqual(66);
  for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(80);
  expect(text.replaceAll(/\s+/g, ' ')).toContain('no licence to try it low in an aeroplane');
  expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
});

test('edges of windows are told a little inside them', () => {
  const stops = answer.returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  expect(stops.length).toBeGreaterThan(0);
  for (const { fromFt, toFt } of stops) {
    const upFt = Math.ceil(fromFt / 10) * 10;
    const downFt = Math.floor(toFt / 10) * 10;
    expect(told(answer)).toContain(`${figure(upFt)} ft to ${figure(downFt)} ft`);
  }
});

test('the end of the scan is told as that and as no edge', () => {
  const [window] = answer.returnWindows;
  if (window === undefined) throw new Error('no window');
  const open = { ...window, fromFt: 103, toFt: 698, fromIsScanEnd: true, toIsScanEnd: true };
  const text = told({ ...answer, returnWindows: [open], spread: null });
  expect(text).toContain('stops on the runway: 103 ft, where the scan began, to 698 ft, where the scan ended');
  expect(text).not.toMatch(/and above|and below|ft up\b/);
  const narrow = { ...window, fromFt: 802, toFt: 808 };
  expect(told({ ...answer, returnWindows: [narrow] })).toContain('stops on the runway: 802 to 808 ft only');
});

test('what was not scanned is not told as a height that does not work', () => {
  const plan = tried(1000, 990, 990, 990);
  const [window] = plan.returnWindows;
  if (window === undefined) throw new Error('no window');
  const cut = {
    ...plan,
    returnWindows: [{ ...window, toFt: 650, toIsScanEnd: true }],
    scan: { ...plan.scan, toFt: 650 },
  };
  expect(told(cut)).toContain('Above 600 ft not counted on: the scan for flawless returns ended at 650 ft.');
});

// The low ends by hand (Wilson): 970 of 1,000 is 95.76 %, 962 is 94.83 %, 197 of 200 is 95.7 %, 196 is 94.97 %.
test('the decision rests on heights that are sure of 95 in 100, not on the best share', () => {
  const sheet = planText(request, tried(1000, 800, 962, 970, 975, 600, 990));
  expect(sheet).toMatch(/Below 700 ft {2,}LAND AHEAD\./);
  expect(sheet).toMatch(/700 ft to 800 ft {2,}a return ends well 95 times in 100/);
  expect(sheet.replaceAll(/\s+/g, ' ')).toContain(
    'Above 800 ft not counted on: 60 % (at least 56 %) from 900 ft; most often it touches the runway too far',
  );
  expect(told(tried(200, 100, 196, 197))).toContain('At 700 ft a return ends well');
});

test('up to the highest height tried it says that none was tried above', () => {
  expect(told(tried(1000, 800, 970, 975))).toContain(
    '600 ft to 700 ft a return ends well 95 times in 100 with ordinary errors; not tried above.',
  );
});

test('where no height is sure of 95 in 100, the plan is to land ahead, whatever the best share', () => {
  const sheet = planText(request, tried(200, 180, 196, 190));
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD/);
  expect(sheet).not.toContain('#');
  expect(sheet.replaceAll(/\s+/g, ' ')).toContain('Best is 98 % (at least 94 %) from 600 ft: not counted on.');
});

// n/(n + 1.96²) reaches 0.95 at 73.
test('with too few draws to tell it says so', () => {
  expect(told(tried(72, 72, 72))).toContain('too few draws to tell. It takes 73 at a height, even if all end well');
  expect(told(tried(73, 73, 73))).toContain('500 ft to 600 ft a return ends well');
});

test('what is counted on stays inside one window of flawless returns', () => {
  const plan = tried(1000, 990, 990, 990, 990);
  const [window] = plan.returnWindows;
  if (window === undefined) throw new Error('no window');
  const upTo = { ...plan, returnWindows: [{ ...window, fromFt: 580, toFt: 690 }] };
  expect(countedOn(upTo)).toMatchObject({ fromFt: 600, toFt: 600, above: { heightFt: 700 } });
  expect(told(upTo)).toContain(
    'Above 600 ft not counted on: flown without error, not every height up to 700 ft works.',
  );
  const gap = [
    { ...window, toFt: 640 },
    { ...window, fromFt: 660 },
  ];
  expect(countedOn({ ...plan, returnWindows: gap })).toMatchObject({ fromFt: 500, toFt: 600 });
  expect(countedOn({ ...plan, returnWindows: [] })).toBeNull();
});

test('without a spread no height is recommended', () => {
  const sheet = planText(request, { ...answer, spread: null });
  expect(sheet).toMatch(new RegExp(`Below ${Math.ceil((answer.lowestReturnFt ?? 0) / 10) * 10} ft +LAND AHEAD`));
  expect(sheet).toContain('plan higher');
});

test('without a return the plan is to land ahead', () => {
  const sheet = planText(request, { ...answer, lowestReturnFt: null, returnWindows: [] });
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD: no return that stops on the runway was found/);
});

test('a band too narrow to plan with is told as that, and no height rests on it', () => {
  const [window] = answer.returnWindows;
  if (window === undefined) throw new Error('no window');
  const band = { ...window, fromFt: 262, toFt: 274, toIsScanEnd: false };
  const only = told({ ...answer, lowestReturnFt: null, returnWindows: [band], spread: null });
  expect(only).toContain(
    'LAND AHEAD: no return to plan with was found from 100 ft to 1,500 ft, not even flown without error: too narrow a band of heights is luck.',
  );
  expect(only).toContain('stops on the runway: 262 to 274 ft only (luck: less than 50 ft wide)');
  const above = { ...window, fromFt: 400, toFt: 900, toIsScanEnd: false };
  const both = told({ ...answer, lowestReturnFt: 400, returnWindows: [band, above], spread: null });
  expect(both).toContain('Below 400 ft LAND AHEAD.');
  expect(both).toContain('a flawless return just works from 400 ft to 900 ft.');
});

test('a lowest return at the beginning of the scan is no edge: nothing is told as a difference to it', () => {
  const [window] = answer.returnWindows;
  const [choice] = answer.climbs?.choices ?? [];
  if (window === undefined || choice === undefined) throw new Error('no window or no climb');
  const open = { ...window, fromFt: 100, toFt: 900, fromIsScanEnd: true };
  const side = (lowestReturnFt: number) => ({ ...answer.turns.left, lowestReturnFt });
  const turns = { ...answer.turns, matters: true, left: side(100), right: side(230) };
  const plan: PlanAnswer = {
    ...answer,
    bestTurn: 'left',
    turns,
    lowestReturnFt: 100,
    returnWindows: [open],
    spread: null,
    climbs: {
      flights: 1,
      choices: [
        { ...choice, planned: true, lowestReturnFt: 100 },
        { ...choice, climbKcas: 99, planned: false, lowestReturnFt: 80 },
      ],
    },
  };
  const text = told(plan);
  expect(text).toContain('Turn LEFT. To the right it works from 230 ft.');
  expect(text).toMatch(/100 ft or less < planned 99 kt/);
  expect(text).toMatch(/1 s of delay — —/);
  expect(told({ ...plan, turns: { ...turns, right: side(100) } })).toContain('To the right it works from as low.');
});

test('sides that work from the same height are told as that', () => {
  const side = (lowestReturnFt: number) => ({ ...answer.turns.left, lowestReturnFt });
  const turns = { ...answer.turns, matters: true, left: side(400), right: side(400) };
  expect(told({ ...answer, bestTurn: 'left', turns, spread: null })).toContain('To the right it works from as low.');
});

test('where only another climb speed leaves a return, that is said with the lowest of them', () => {
  const [choice] = answer.climbs?.choices ?? [];
  if (choice === undefined) throw new Error('no climb');
  const at = (climbKcas: number, lowestReturnFt: number | null, planned = false) => ({
    ...choice,
    climbKcas,
    lowestReturnFt,
    planned,
  });
  const none = { ...answer, lowestReturnFt: null, returnWindows: [] };
  const climbs = { flights: 1, choices: [at(92, 636), at(100, 617), at(108, null, true)] };
  expect(told({ ...none, climbs })).toContain(
    'not even flown without error. Climbing at 100 kt one was found, from 620 ft.',
  );
  expect(told({ ...none, climbs: { flights: 1, choices: [at(92, null), at(108, null, true)] } })).not.toContain(
    'Climbing',
  );
});

test('where only the side not named brings back, that is said', () => {
  const turns = {
    ...answer.turns,
    matters: true,
    left: { ...answer.turns.left, lowestReturnFt: null },
    right: { ...answer.turns.right, lowestReturnFt: 475 },
  };
  const plan: PlanAnswer = { ...answer, bestTurn: 'left', turns, lowestReturnFt: null, returnWindows: [] };
  expect(told(plan)).toContain('To the right one was found, from 480 ft: the technique names the left.');
  expect(told({ ...plan, turns: { ...turns, right: turns.left } })).not.toContain('To the right');
});

test('the tables are there with their units: turns, costs, climb speeds, flights', () => {
  for (const { turnDeg, heightLostFt } of answer.heightLostByTurn) {
    expect(text).toContain(`${turnDeg}°`);
    expect(text).toMatch(new RegExp(`\\n  ft .*\\b${figure(Math.ceil(heightLostFt / 10) * 10)}\\b`));
  }
  expect(text).toMatch(/1 s of delay( +[+−]\d+| +0){4}/);
  expect(answer.climbs?.choices.length).toBe(3);
  for (const { climbKcas } of answer.climbs?.choices ?? []) expect(text).toMatch(new RegExp(`\\n +${climbKcas} kt +`));
  expect(text.replaceAll(/\s+/g, ' ')).toContain(`${figure(answer.scan.flights)} for the windows`);
});

test('a technique that lands ahead is told to, and nothing of a return', () => {
  const sheet = planText({ ...request, technique: { ...request.technique, turn: 'ahead' } }, answer);
  expect(sheet).toMatch(/At every height {2,}LAND AHEAD, as this technique has it/);
  expect(sheet).not.toMatch(/RETURN WINDOWS|ORDINARY ERRORS:|\bTurn\b/);
});

test('it says what the drawn pilot does better than a real one', () => {
  expect(told(answer)).toContain('(the best of up to 7 counts) and never pulls past the stall margin: a real pilot');
});

test('doubts about the numbers stand on the sheet', () => {
  const warnings = [{ field: 'aircraft.bestGlideKcas', message: 'it is doubtful' }];
  expect(planText(request, { ...answer, warnings })).toContain('aircraft.bestGlideKcas: it is doubtful.');
  expect(text).not.toContain('DOUBTFUL');
});

test('a target speed below the stall in the turn is a warning of the plan, and a caution on the sheet', async () => {
  const slow = { ...request, technique: { ...request.technique, targetKcas: 55 } };
  const asked = { request: slow, from: null, questions: { draws: 0, fromFt: 400, toFt: 450 } };
  const { warnings } = await planAnswer(asked, false, ALONE);
  expect(warnings.map(({ field }) => field)).toEqual(['technique.targetKcas']);
  expect(planText(slow, { ...answer, warnings }).replaceAll(/\s+/g, ' ')).toContain('55 kt holds only 24° of bank');
});

const rowsOf = (sheet: string) =>
  sheet
    .trimEnd()
    .split('\r\n')
    .map((row) => row.split(','));

test('all tables as one: a figure a row, four cells each', () => {
  const [heading, ...rows] = rowsOf(planCsv(answer));
  expect(heading).toEqual(['table', 'row', 'figure', 'value']);
  for (const row of rows) expect(row).toHaveLength(4);
  const rowsIn = (table: string) => new Set(rows.filter((row) => row[0] === table).map((row) => row[1])).size;
  expect(rowsIn('windows')).toBe(answer.returnWindows.length);
  expect(rowsIn('turns')).toBe(answer.heightLostByTurn.length);
  expect(rowsIn('costs')).toBe(2 * answer.sensitivity.length);
  expect(rowsIn('spread')).toBe(answer.spread?.heights.length);
  expect(rowsIn('sides')).toBe(2);
  expect(rowsIn('ahead')).toBe(1);
  const at = rows.find((row) => row[0] === 'turns' && row[1] === '1' && row[2] === 'heightLostFt');
  expect(Number(at?.[3])).toBeCloseTo(answer.heightLostByTurn[0]?.heightLostFt ?? Number.NaN, 1);
});

test.each(TABLE_NAMES)('the table %s alone has one heading, and every row is as long', (name) => {
  const [heading, ...rows] = rowsOf(planCsv(answer, checkTableName(name)));
  expect(heading?.length).toBeGreaterThan(1);
  for (const row of rows) expect(row.length).toBe(heading?.length);
  expect(planCsv(answer, name)).not.toMatch(/NaN|undefined/);
});

test('a table nobody has is refused with the names there are', () => {
  expect(() => checkTableName('toString')).toThrow(/--table must be one of windows, .*, got "toString"/);
});
test('the parts of a searched technique are not told as if they added up', () => {
  const word = { text: 'turn slower, at 60 kt', worthFt: 44, teachable: false, because: 'it is slow' };
  const optimised = { technique: request.technique, returnWindows: [], lowestReturnFt: 300, gainFt: 60, flights: 1 };
  const both = told({ ...answer, optimised: { ...optimised, words: [word, { ...word, worthFt: 1 }] } });
  expect(both).toContain('Turn slower, at 60 kt: without it 40 ft more. CAUTION, not near the ground: it is slow.');
  expect(both).toContain('worth nothing here, leave it out');
  expect(both).toContain('do not add up');
  expect(told({ ...answer, optimised: { ...optimised, words: [word] } })).not.toContain('do not add up');
});
