// The link that is taught: what each step on the page does to the profile.
import { type Heard, LinkTransport, type SeenSlot } from '@stillprop/contracts';
import { linkProfileProblem } from '@stillprop/links';
import { expect, test } from 'vitest';
import {
  assigned,
  changed,
  coverageOf,
  draftOf,
  EMPTY_DRAFT,
  idOf,
  profileOf,
  valueNow,
  without,
  withSuggestions,
} from './linkDraft.js';

const seen = (slot: SeenSlot['slot'], newest: number, suggestion: SeenSlot['suggestion'] = null): SeenSlot => ({
  slot,
  newest,
  lowest: newest,
  highest: newest,
  moves: false,
  suggestion,
});
const HEARD: Heard = {
  transport: LinkTransport.parse({ kind: 'udp', listenHost: '0.0.0.0', listenPort: 47_200 }),
  problem: null,
  received: 100,
  rateHz: 30.2,
  sender: '192.168.0.7',
  senders: 1,
  quietS: 0,
  newest: '',
  isText: true,
  lengthBytes: 10,
  shape: '',
  decoder: { kind: 'json' },
  slots: [
    seen('roll', 0.5, { channel: 'bankDeg', unit: 'rad', scale: -1, why: 'by its name' }),
    seen('x', 3),
    seen('phi', 0.5, { channel: 'bankDeg', unit: 'deg', scale: 1, why: 'by its name' }),
  ],
};

test('a slot gives one channel, and a channel comes from one slot', () => {
  const first = assigned(EMPTY_DRAFT, 'a', 'bankDeg');
  expect(assigned(first, 'b', 'bankDeg').channels).toEqual({
    bankDeg: { slot: 'b', unit: 'deg', scale: 1, offset: 0 },
  });
  expect(Object.keys(assigned(first, 'a', 'pitchDeg').channels)).toEqual(['pitchDeg']);
  expect(assigned(first, 'a', null).channels).toEqual({});
  expect(without(first, 'bankDeg').channels).toEqual({});
});

test('suggestions are taken for channels that have no slot, each with its unit and sign', () => {
  const draft = withSuggestions(EMPTY_DRAFT, HEARD.slots);
  expect(draft.channels).toEqual({ bankDeg: { slot: 'roll', unit: 'rad', scale: -1, offset: 0 } });
  const source = draft.channels.bankDeg;
  expect(source && valueNow('bankDeg', source, HEARD.slots)).toBeCloseTo(-28.648, 3);
  const turned = changed(draft, 'bankDeg', { scale: 1 }).channels.bankDeg;
  expect(turned && valueNow('bankDeg', turned, HEARD.slots)).toBeCloseTo(28.648, 3);
});

test('the profile has where it was heard, its sender alone, its rate, and only the commands that were given', () => {
  const draft = {
    ...EMPTY_DRAFT,
    name: 'Rig',
    id: 'rig',
    commandPort: '47201',
    commands: { fail: 'OFF', restore: '' },
  };
  const profile = profileOf(draft, HEARD);
  expect(profile).toMatchObject({
    ok: true,
    value: {
      id: 'rig',
      transport: { kind: 'udp', listenHost: '0.0.0.0', listenPort: 47_200, allowedSenders: ['192.168.0.7'] },
      decoder: { kind: 'json' },
      expectedRateHz: 30,
      commands: { host: '127.0.0.1', port: 47_201, fail: 'OFF' },
    },
  });
  expect(profile.ok && profile.value.commands).not.toHaveProperty('restore');
  expect(coverageOf(profile)?.missing.filter(({ required }) => required)).toHaveLength(9);
});

test('a port that is none is refused in a sentence', () => {
  const profile = profileOf({ ...EMPTY_DRAFT, commandPort: 'x', commands: { fail: 'OFF' } }, HEARD);
  expect(profile.ok ? '' : profile.problem.message).toMatch(/^commands\.port must be/);
});

test('a stand-in for what is not sent is dropped once it is sent', () => {
  const lacking = { ...assigned(EMPTY_DRAFT, 'x', 'altitudeFt'), timeByArrival: true, climbFromAltitude: true };
  const profile = profileOf(lacking, HEARD);
  expect(profile.ok && profile.value).toMatchObject({
    timeSource: 'arrival',
    derived: [{ channel: 'verticalSpeedFpm' }],
  });
  const sent = assigned(assigned(lacking, 'roll', 'timeS'), 'phi', 'verticalSpeedFpm');
  const full = profileOf(sent, HEARD);
  expect(full.ok && full.value.timeSource).toBeUndefined();
  expect(full.ok && full.value.derived).toBeUndefined();
});

test('a profile that is opened and not changed stays as it was', () => {
  const made = profileOf({ ...assigned(EMPTY_DRAFT, 'x', 'altitudeFt'), id: 'rig', name: 'Rig' }, HEARD);
  if (!made.ok) throw new Error(made.problem.message);
  const profile = {
    ...made.value,
    description: 'Written by hand.',
    commandLatencyS: 0.3,
    commands: { host: '127.0.0.1', port: 5000, setPower: { hex: '00', values: [] }, begin: 'GO {pilot}', fail: 'OFF' },
  };
  expect(profileOf(draftOf(profile), null)).toEqual({ ok: true, value: profile });
  expect(linkProfileProblem(profile)?.field).toMatch(/^channels\./);
});

test('a short name is made of any name', () => {
  expect(idOf('My Simulator, No. 2!')).toBe('my-simulator-no-2');
  expect(idOf('Übung')).toBe('ubung');
  expect(idOf('???')).toBe('');
});
