// What links cover, what is derived, and what each missing channel loses, in words.
import { LinkProfile, REQUIRED_CHANNELS, SAMPLE_CHANNELS } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { linkCoverage } from './linkCoverage.js';
import { fixtureProfile } from './links.fixture.js';
import { LOST } from './lost.js';

const lead = fixtureProfile('example-tcp-lines');
const second = fixtureProfile('example-second-link');

test('a link that sends everything has nothing to tell', () => {
  const { covered, missing, problem } = linkCoverage([fixtureProfile('stand-in-text')]);
  expect(covered.map(({ channel }) => channel)).toEqual(
    SAMPLE_CHANNELS.filter((name) => name !== 'heightAboveGroundFt'),
  );
  expect(covered.every(({ how, note }) => how === 'sent' && note === null)).toBe(true);
  expect([missing, problem]).toEqual([[], null]);
});

test('two links together: who gives what, and how', () => {
  const { covered, problem } = linkCoverage([lead, second]);
  const of = (channel: string) => covered.find((each) => each.channel === channel);
  expect(problem).toBeNull();
  expect(of('latitudeDeg')).toEqual({ channel: 'latitudeDeg', linkId: lead.id, how: 'sent', note: null });
  expect(of('bankDeg')).toMatchObject({ linkId: second.id, note: 'Supplied by the link "example-second-link".' });
  expect(of('timeS')).toMatchObject({ how: 'arrival' });
  expect(of('verticalSpeedFpm')).toMatchObject({
    how: 'derived',
    note: 'Derived from altitude, and lags by about 0.5 s.',
  });
  expect(of('headingDeg')?.note).toBe('Derived from groundspeed and track and a known wind.');
});

test('what is missing is told with what is lost, required channels first of all', () => {
  const { missing, problem } = linkCoverage([lead]);
  expect(missing.filter(({ required }) => required).map(({ channel }) => channel)).toEqual(['bankDeg', 'pitchDeg']);
  expect(missing.find(({ channel }) => channel === 'loadFactor')).toEqual({
    channel: 'loadFactor',
    required: false,
    lost: 'Load in the turn is not measured.',
  });
  expect(problem).toMatch(/^channels\.bankDeg is missing/);
});

test('every channel is either covered or missing, save one that adds nothing', () => {
  const { covered, missing } = linkCoverage([LinkProfile.parse(lead)]);
  const names = [...covered, ...missing].map(({ channel }) => channel);
  expect(new Set(names).size).toBe(names.length);
  expect([...names].sort()).toEqual([...SAMPLE_CHANNELS].sort());
});

test('each loss is one plain sentence, and that of a required channel says what would be right', () => {
  for (const channel of SAMPLE_CHANNELS) expect(LOST[channel], channel).toMatch(/^[^.]*\.$/);
  for (const channel of REQUIRED_CHANNELS) expect(LOST[channel], channel).toMatch(/must send|can stand in/);
});

test('what an open standard means by a channel is told with it', () => {
  const { covered, missing } = linkCoverage([fixtureProfile('standard-gdl90'), second]);
  const note = (channel: string) => covered.find((each) => each.channel === channel)?.note;
  expect(note('altitudeFt')).toMatch(/ellipsoid/);
  expect(note('bankDeg')).toBe('Supplied by the link "example-second-link".');
  expect(missing.every(({ required }) => !required)).toBe(true);
});
