import type { RecordingHeader } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { heldWords } from './pages/attemptHead.js';
import { failureWords, ledgerEnd, linkWords, pilotWords, windWords } from './words.js';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const failure = { atS: 60, heightFt: 1004, plannedHeightFt: 1000, distanceFt: null, indicatedAirspeedKt: 92 };
const drawn = (kind: 'total' | 'partial' | 'surging' | 'none', powerFraction = 0) => ({
  drawn: { kind, heightFt: 1000, powerFraction, propeller: 'coarse' as const },
});

test('a failure is told by its kind and the height it took effect at', () => {
  expect(plain(failureWords(drawn('total'), failure))).toBe('total loss at 1,004 ft');
  expect(plain(failureWords(drawn('partial', 0.4), failure))).toBe('power down to 40 % at 1,004 ft');
  expect(failureWords(drawn('none'), null)).toBe('no failure');
  expect(failureWords(drawn('total'), null)).toBe('no failure');
});

test('a ledger ends at the contact only where there was one', () => {
  const end = (from: 'runway' | 'floor', code: 'contact' | 'first-action') =>
    ledgerEnd({
      score: { events: [{ code, atS: 90, heightFt: 0, text: '' }] },
      header: { scenario: { practice: { from } } } as unknown as RecordingHeader,
    });
  expect(end('runway', 'contact')).toBe('contact');
  expect(end('runway', 'first-action')).toBe('air');
  expect(end('floor', 'contact')).toBe('floor');
});

test('wind is told layer by layer, calm in words', () => {
  const winds = [
    { heightFt: 33, fromTrueDeg: 255, speedKt: 8 },
    { heightFt: 1000, fromTrueDeg: 265, speedKt: 14 },
  ];
  expect(plain(windWords({ temperatureC: 15, qnhHpa: 1013, winds }))).toBe(
    'wind 255°/8 kt at 33 ft, 265°/14 kt at 1,000 ft',
  );
  expect(windWords({ temperatureC: 15, qnhHpa: 1013, winds: [] })).toBe('no wind');
});

test.each([
  ['receiving', 'Receiving, 20 samples a second'],
  ['silent', 'Waiting for samples'],
  ['stale', 'Samples have stopped'],
  ['closed', 'Link closed'],
] as const)('a %s link is told as "%s"', (state, text) => {
  expect(linkWords({ profileId: null, state, rateHz: 20, received: 0, refused: {} })).toBe(text);
});

test('refused datagrams are told with their number and the reason, not as waiting', () => {
  const refused = { 'missing-channel pitchDeg': 1234 };
  const link = { profileId: 'home', state: 'silent', rateHz: 0, received: 1234, refused } as const;
  expect(linkWords({ ...link, refusing: { count: 1234, reason: 'channel pitchDeg is missing' } })).toBe(
    '1,234 datagrams arrived and are refused; the first: channel pitchDeg is missing.',
  );
  expect(linkWords({ ...link, refusing: { count: 1, reason: 'it is empty' } })).toBe(
    '1 datagram arrived and is refused; the first: it is empty.',
  );
});

test('a pilot nobody described keeps its own name', () => {
  expect(pilotWords('cautious')).toBe('cautious');
});

test('what holds the total is named once', () => {
  const finding = { code: 'stall' as const, severity: 'fault' as const, atS: 70, text: 'Stalled at 640 ft.', cap: 30 };
  const low = { code: 'low-turn' as const, severity: 'caution' as const, atS: 90, text: 'Turning at 90 ft.', cap: 60 };
  const score = { overall: 30, uncapped: 71, findings: [low, finding], headline: 'You made the runway.' };
  expect(heldWords(score)).toBe('Held to 30; 71 without this: Stalled at 640 ft.');
  expect(heldWords({ ...score, headline: 'Stalled at 640 ft.' })).toBe('Held to 30; 71 without this.');
  expect(heldWords({ ...score, uncapped: 30 })).toBeNull();
  expect(heldWords({ ...score, overall: null, uncapped: null })).toBeNull();
});
