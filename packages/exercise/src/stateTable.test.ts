// The written table of states: the page that people read is made from it, and flights go through every row of it.
import type { Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { armedTrial, fly, setupOf, type Trial, Trial as Unarmed } from './flight.fixture.js';
import type { PersonCommand } from './states.js';
import { statesPage } from './stateTable.fixture.js';
import { type Cause, REFUSALS, STATE_NAMES, STATE_TABLE } from './stateTable.js';

test('STATES.md is written from the table', async () => {
  await expect(statesPage()).toMatchFileSnapshot('../STATES.md');
});

test('every state is reached and left, save the last, which nothing leaves', () => {
  const rows = Object.values(STATE_TABLE);
  for (const name of STATE_NAMES) {
    expect(rows.some(({ to }) => to === name) || name === 'idle').toBe(true);
    expect(rows.some(({ from }) => (from as readonly string[]).includes(name))).toBe(name !== 'closed');
  }
});

const none = { kind: 'none', heightFt: null, powerFraction: 0, propeller: 'coarse' } as const;
const base = setupOf();
const overFloor = {
  ...base,
  scenario: { ...base.scenario, practice: { from: 'floor', floorAltitudeFt: 312 } as const },
};
const cut = (fromS: number) => (sample: Sample) => (sample.timeS > fromS ? null : sample);
const back = (sample: Sample) => (sample.timeS > 40 ? { ...sample, timeS: sample.timeS - 40 } : sample);
const hop = (sample: Sample) =>
  sample.timeS > 30 && sample.timeS < 32 ? { ...sample, onGround: true, heightFt: 0, altitudeFt: 312 } : sample;
const airborne = (sample: Sample) => ({ ...sample, onGround: false });

const flights: readonly (readonly [string, Cause[], () => Trial])[] = [
  ['a whole attempt', ['arm', 'lift-off', 'failure-due', 'power-fell', 'stopped'], () => fly(base).trial],
  [
    'by hand, restored, gone around',
    ['arm', 'lift-off', 'failed-by-hand', 'power-fell', 'restored', 'went-around'],
    () =>
      fly(base, {
        persons: [
          { atS: 40, command: 'fail-now' },
          { atS: 44, command: 'restore' },
        ],
      }).trial,
  ],
  [
    'restored before it was seen to fall',
    ['arm', 'lift-off', 'failed-by-hand', 'restored', 'instructor'],
    () =>
      fly(base, {
        obeys: false,
        persons: [
          { atS: 40, command: 'fail-now' },
          { atS: 40.5, command: 'restore' },
          { atS: 42, command: 'stop' },
        ],
      }).trial,
  ],
  [
    'none drawn',
    ['arm', 'lift-off', 'none-drawn', 'left-area'],
    () => fly({ ...base, drawn: none }, { forS: 800 }).trial,
  ],
  [
    'not obeyed, then silence',
    ['arm', 'lift-off', 'failure-due', 'not-obeyed', 'link-lost'],
    () => fly(base, { obeys: false, onTheWay: cut(90), forS: 200 }).trial,
  ],
  ['time goes back', ['arm', 'lift-off', 'simulator-reset'], () => fly(base, { onTheWay: back }).trial],
  [
    'over a floor',
    ['arm', 'lift-off', 'failure-due', 'power-fell', 'floor'],
    () => fly(overFloor, { onTheWay: airborne, forS: 300 }).trial,
  ],
  [
    'a touch before the failure',
    ['arm', 'lift-off', 'touched-down-unfailed', 'lift-off', 'failure-due', 'power-fell', 'stopped'],
    () => fly(base, { onTheWay: hop, rateHz: 5 }).trial,
  ],
];

test.each(flights)('%s goes through its rows', (_, causes, flown) => {
  expect(flown().causes).toEqual(causes);
});

test('between them these flights go through every row', () => {
  expect(new Set(flights.flatMap(([, causes]) => causes))).toEqual(new Set(Object.keys(STATE_TABLE)));
});

test.each(Object.keys(REFUSALS) as PersonCommand[])('"%s" is refused where the table says so', (command) => {
  const idle = new Unarmed(base);
  const refusals = [idle, armedTrial()].map((trial) => {
    const { name } = trial.state;
    const said = trial.give({ kind: 'person', command, nowS: 0 });
    const ok = said.some((action) => action.kind === 'answer' && action.ok);
    return [name, ok, REFUSALS[command][name] === undefined];
  });
  for (const [, ok, allowed] of refusals) expect(ok).toBe(allowed);
});
