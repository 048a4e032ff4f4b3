// A narrowed comparison as the server is asked for it and as the reader is told of it.
import { afterEach, expect, test } from 'vitest';
import { NOT_NARROWED } from '../compareRoute.js';
import { filterQuery, filterWords } from './compareFilterWords.js';

const zone = process.env.TZ;
afterEach(() => {
  process.env.TZ = zone ?? '';
});
const plain = (text: string) => text.replace(/\s+/g, ' ');

test('not narrowed: nothing is asked for and nothing said', () => {
  expect(filterQuery(NOT_NARROWED)).toEqual({});
  expect(filterQuery({ ...NOT_NARROWED, name: '  ' })).toEqual({});
  expect(filterWords(NOT_NARROWED)).toBe('');
});

test('a day is the whole of it where the reader is, through the change of the clocks too', () => {
  process.env.TZ = 'Europe/Berlin';
  // On 29 March 2026 the clocks there go from 2 to 3: a day of 23 hours.
  expect(filterQuery({ ...NOT_NARROWED, fromDay: '2026-03-29', toDay: '2026-03-29' })).toEqual({
    startedFrom: '2026-03-28T23:00:00.000Z',
    startedBefore: '2026-03-29T22:00:00.000Z',
  });
});

test('all of it in words', () => {
  const filter = {
    outcomes: ['landed-ahead', 'stall'],
    fromDay: '2026-03-01',
    toDay: null,
    heightFromFt: 600,
    heightToFt: 1200,
    name: ' Finch ',
  } as const;
  expect(plain(filterWords(filter))).toBe(
    'name with “Finch”; landed ahead or stalled; flown from 1 Mar 2026 on; power lost from 600 ft to 1,200 ft',
  );
  expect(filterQuery(filter)).toMatchObject({ outcome: 'landed-ahead,stall', heightToFt: '1200', name: 'Finch' });
  expect(plain(filterWords({ ...NOT_NARROWED, toDay: '2026-03-09', heightToFt: 0 }))).toBe(
    'flown up to 9 Mar 2026; power lost up to 0 ft',
  );
  const one = { ...NOT_NARROWED, fromDay: '2026-03-09', toDay: '2026-03-09', heightFromFt: 900, heightToFt: 900 };
  expect(plain(filterWords(one))).toBe('flown on 9 Mar 2026; power lost at 900 ft');
});
