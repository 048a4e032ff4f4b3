import type { LiveState, Station } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { FLY_STEPS, type FlyLink, flyButtons, flyStage, flyStep } from './flyStage.js';

const link: FlyLink = {
  id: 'home',
  name: 'Home',
  description: '',
  commands: ['fail', 'restore'],
  pilots: [],
  missing: [],
};
const live = (state: LiveState['exercise']['state']): LiveState => ({
  station: 'one',
  link: { profileId: 'home', state: 'receiving', rateHz: 20, received: 1, refused: {} },
  exercise: { state, text: '', next: '' },
  attemptId: null,
  scenarioId: null,
  timeS: null,
  heightFt: null,
  indicatedAirspeedKt: null,
  bankDeg: null,
  verticalSpeedFpm: null,
  powerFraction: null,
  alongFt: null,
  acrossFt: null,
  lastClosed: null,
  outboxWaiting: 0,
  alarm: null,
});
const station = (name: string, part: Partial<Station> = {}): Station => ({
  station: name,
  connected: true,
  hello: { type: 'hello', station: name, links: [link] },
  live: live('idle'),
  ...part,
});

test('before and after the connection, the page says so', () => {
  expect(flyStage({ connection: 'connecting', stations: [] }, null).stage).toBe('connecting');
  expect(flyStage({ connection: 'lost', stations: [station('one')] }, null).stage).toBe('unreachable');
});

test('a station that is away counts as none', () => {
  expect(flyStage({ connection: 'open', stations: [] }, null).stage).toBe('no-station');
  expect(flyStage({ connection: 'open', stations: [station('one', { connected: false })] }, 'one').stage).toBe(
    'no-station',
  );
});

test('a station without links cannot be armed', () => {
  expect(flyStage({ connection: 'open', stations: [station('one', { hello: null })] }, null).stage).toBe('no-link');
});

test.each(['idle', 'closed'] as const)('when the exercise is %s, the next one is chosen', (state) => {
  expect(flyStage({ connection: 'open', stations: [station('one', { live: live(state) })] }, null).stage).toBe('ready');
});

test.each(['armed', 'climbing', 'firing', 'watching', 'disobeyed'] as const)(
  'while %s, the flight is shown with its link',
  (state) => {
    const stage = flyStage({ connection: 'open', stations: [station('one', { live: live(state) })] }, null);
    expect(stage).toMatchObject({ stage: 'flying', link: { id: 'home' } });
    expect(flyStep(state)).toBeGreaterThanOrEqual(0);
    expect(flyStep(state)).toBeLessThan(FLY_STEPS.length);
  },
);

test('the chosen station is shown, another when it has gone', () => {
  const stations = [station('one'), station('two')];
  expect(flyStage({ connection: 'open', stations }, 'two')).toMatchObject({ station: { station: 'two' } });
  expect(flyStage({ connection: 'open', stations: stations.slice(0, 1) }, 'two')).toMatchObject({
    station: { station: 'one' },
  });
});

test('buttons are there when they make sense and the link can do it', () => {
  expect(flyButtons('armed', link)).toEqual({ failNow: false, restore: false, pause: false, stop: true });
  expect(flyButtons('climbing', link)).toEqual({ failNow: true, restore: false, pause: false, stop: true });
  expect(flyButtons('watching', link)).toEqual({ failNow: false, restore: true, pause: false, stop: true });
  expect(flyButtons('climbing', { commands: [] }).failNow).toBe(false);
  expect(flyButtons('climbing', { commands: ['setPower'] }).failNow).toBe(true);
  expect(flyButtons('watching', { commands: ['fail'] }).restore).toBe(false);
  expect(flyButtons('climbing', null)).toEqual({ failNow: false, restore: false, pause: false, stop: true });
  expect(flyButtons('closed', link).stop).toBe(false);
  expect(flyButtons('watching', { commands: ['setPower'] }).restore).toBe(true);
  expect(flyButtons('climbing', { commands: ['pause'] }).pause).toBe(true);
  expect(flyButtons('closed', { commands: ['pause'] }).pause).toBe(false);
});

test.each(['cut-throttle', 'by-hand'] as const)(
  'a failure made by %s can be asked for and taken back',
  (failureMeans) => {
    expect(flyButtons('climbing', { commands: [], failureMeans }).failNow).toBe(true);
    expect(flyButtons('watching', { commands: [], failureMeans }).restore).toBe(true);
  },
);
