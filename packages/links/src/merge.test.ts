// Several links as one stream: the leading link's rate and time, other channels held for a stated time and then missing.
import type { LinkProfile } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { derivedChannels, linkSet, linkSetProblem, linkSets, providersOf } from './linkSet.js';
import { fixtureProfile } from './links.fixture.js';
import { createMerger, holdingS } from './merge.js';
import type { SamplePart } from './partFromRow.js';

const lead = fixtureProfile('example-tcp-lines');
const second = fixtureProfile('example-second-link');
const set = [lead, second];
const PART: SamplePart = {
  timeS: 10,
  latitudeDeg: 52,
  longitudeDeg: -1,
  altitudeFt: 900,
  indicatedAirspeedKt: 80,
  headingDeg: 240,
  verticalSpeedFpm: 500,
};
const ATTITUDE: SamplePart = { bankDeg: -3, pitchDeg: 6 };

describe('a merger', () => {
  test('makes one sample of each part of the leading link, and none of the others', () => {
    const merger = createMerger(set);
    expect(merger.give(0, PART, 100)).toEqual({ kind: 'lacking', channels: ['bankDeg', 'pitchDeg'] });
    expect(merger.give(1, ATTITUDE, 100.1)).toEqual({ kind: 'kept' });
    expect(merger.give(0, { ...PART, timeS: 10.1 }, 100.2)).toEqual({
      kind: 'sample',
      sample: { ...PART, ...ATTITUDE, timeS: 10.1 },
    });
    expect(merger.give(0, { ...PART, timeS: 10.2 }, 100.3).kind).toBe('sample');
  });
  test('holds values for the time stated and not longer', () => {
    expect(holdingS(second)).toBe(0.5);
    const merger = createMerger(set);
    merger.give(1, ATTITUDE, 100);
    expect(merger.give(0, PART, 100.5).kind).toBe('sample');
    expect(merger.give(0, PART, 100.51)).toEqual({ kind: 'lacking', channels: ['bankDeg', 'pitchDeg'] });
    merger.give(1, { bankDeg: 1 }, 101);
    expect(merger.give(0, PART, 101)).toEqual({ kind: 'lacking', channels: ['pitchDeg'] });
  });
  test('without a stated time three intervals, at least half a second', () => {
    const { holdS: _, ...open } = second;
    expect(holdingS({ ...open, expectedRateHz: 30 })).toBe(0.5);
    expect(holdingS({ ...open, expectedRateHz: 2 })).toBe(1.5);
  });
  test('takes time from the leading link alone, and a channel from the first link that has it', () => {
    const both: LinkProfile = {
      ...second,
      channels: { ...second.channels, altitudeFt: { slot: 'alt', unit: 'ft', scale: 1, offset: 0 } },
    };
    const merger = createMerger([lead, both]);
    merger.give(1, { ...ATTITUDE, timeS: 999, altitudeFt: 1 }, 5);
    expect(merger.give(0, PART, 5)).toMatchObject({ sample: { timeS: 10, altitudeFt: 900 } });
    const { altitudeFt: _, ...without } = PART;
    expect(merger.give(0, without, 5)).toMatchObject({ sample: { altitudeFt: 1 } });
  });
  test('a value that a link sends goes before one that another calculates', () => {
    const both: LinkProfile = {
      ...second,
      channels: { ...second.channels, headingDeg: { slot: 'hdg', unit: 'deg', scale: 1, offset: 0 } },
    };
    expect(providersOf('headingDeg', [lead, both])).toEqual([{ linkIndex: 1, how: 'sent' }]);
    expect(derivedChannels([lead, both])).toEqual(['indicatedAirspeedKt', 'trueAirspeedKt', 'verticalSpeedFpm']);
    const merger = createMerger([lead, both]);
    merger.give(1, { ...ATTITUDE, headingDeg: 100 }, 5);
    expect(merger.give(0, PART, 5)).toMatchObject({ sample: { headingDeg: 100 } });
    expect(merger.give(0, PART, 9)).toEqual({ kind: 'lacking', channels: ['headingDeg', 'bankDeg', 'pitchDeg'] });
  });
  test('gives the same for the same parts, and nothing that no part held', () => {
    const step = fc.record({
      link: fc.nat(1),
      afterS: fc.double({ min: 0, max: 0.4, noNaN: true }),
      bankDeg: fc.option(fc.integer({ min: -60, max: 60 }), { nil: undefined }),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const run = () => {
          const merger = createMerger(set);
          let nowS = 0;
          return steps.map(({ link, afterS, bankDeg }) => {
            nowS += afterS;
            const part =
              link === 0 ? { ...PART, timeS: nowS } : { pitchDeg: 1, ...(bankDeg === undefined ? {} : { bankDeg }) };
            return merger.give(link, part, nowS);
          });
        };
        const out = run();
        expect(run()).toEqual(out);
        let [bankDeg, bankAtS, pitchAtS, nowS] = [Number.NaN, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
        for (const [index, { link, afterS, bankDeg: sent }] of steps.entries()) {
          nowS += afterS;
          if (link === 1) {
            pitchAtS = nowS;
            if (sent !== undefined) [bankDeg, bankAtS] = [sent, nowS];
            continue;
          }
          const whole = nowS - bankAtS <= 0.5 && nowS - pitchAtS <= 0.5;
          expect(out[index]?.kind).toBe(whole ? 'sample' : 'lacking');
          if (whole) expect(out[index]).toMatchObject({ sample: { bankDeg, timeS: nowS } });
        }
      }),
    );
  });
  test('knows only the links of its set', () => {
    expect(() => createMerger(set).give(2, {}, 0)).toThrow('linkIndex must be 0 to 1, got 2');
  });
});

describe('a set of links', () => {
  test('is gathered by the ids that the leading link names', () => {
    expect(linkSet(lead, [second, lead])).toEqual({ ok: true, profiles: set });
    expect(linkSet(lead, [lead, fixtureProfile('stand-in-text')])).toMatchObject({
      problem: { message: 'merge must be one of stand-in-text, got "example-second-link"' },
    });
  });
  test.each<[string, readonly LinkProfile[], string]>([
    [
      'a required channel that nobody gives',
      [lead],
      'channels.bankDeg is missing from link "example-tcp-lines": without bank the turn and the touchdown cannot be judged; a second link must send it.',
    ],
    [
      'a supplement that leads',
      [second, lead],
      'link "example-second-link" only supplies channels to others: another link must name it in merge',
    ],
    ['one link twice', [lead, second, second], 'id must differ from link to link, got "example-second-link" twice'],
    ['none at all', [], 'links must be at least one, got none'],
  ])('refused: %s', (_, profiles, message) => {
    expect(linkSetProblem(profiles)?.message).toBe(message);
    expect(() => createMerger(profiles)).toThrow(RangeError);
  });
});

describe('all links at hand', () => {
  const alone = fixtureProfile('stand-in-text');
  test('are the sets a person chooses from: a link by itself, and one with those it names', () => {
    expect(linkSets([second, alone, lead])).toEqual({ ok: true, sets: [[alone], [lead, second]] });
    expect(linkSets([])).toEqual({ ok: true, sets: [] });
  });
  test.each<[string, readonly LinkProfile[], string, string]>([
    ['two of one id', [alone, alone], 'stand-in-text', 'id must differ from link to link, got it twice'],
    [
      'one that is named and not there',
      [lead, alone],
      lead.id,
      'merge must be one of stand-in-text, got "example-second-link"',
    ],
    [
      'supplements alone',
      [second],
      second.id,
      'supplement only supplies channels to others: give the link that names it in merge too',
    ],
    [
      'a link that lacks a channel and names no other',
      [alone, { ...lead, merge: undefined }],
      lead.id,
      'channels.bankDeg is missing: without it no sample can be made',
    ],
  ])('refused: %s', (_, all, linkId, message) => {
    expect(linkSets(all)).toMatchObject({ ok: false, linkId, problem: { message } });
  });
});
