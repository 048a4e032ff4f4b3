// The printed debrief says what the score says, in lines that fit, and carries the caution.
import { expect, test } from 'vitest';
import { debriefText } from './debriefText.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');

test('a debrief in full', () => {
  const { recording } = syntheticRecording(bundle, { delayS: 5, bankDeg: 35, contactBankDeg: 15 });
  const score = scoreRecording(recording);
  const text = debriefText(score, recording.header);
  const flat = text.replace(/\s+/g, ' ');
  expect(flat).toContain(score.headline);
  expect(flat).toContain(`Score: ${score.overall} of 100. The marks alone come to ${score.uncapped};`);
  expect(flat).toContain(score.verdict.text);
  for (const { text: why } of Object.values(score.criteria)) expect(flat).toContain(why);
  for (const { text: why, cap } of score.findings)
    expect(flat).toContain(cap === undefined ? why : `${why} The total is at most ${cap}.`);
  for (const row of score.ledger?.rows ?? []) expect(text).toContain(`  ${row.text}`);
  expect(flat).toContain('runway 24 at Quarry Moor (invented) (4,600 ft), calm; power lost at 1,000 ft');
  expect(flat).toContain('Simulator practice only: no licence to try it low in an aeroplane.');
  expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(96);
  expect(text.endsWith('\n')).toBe(true);
});

test('without a failure it says that nothing was to be done', () => {
  const { recording } = syntheticRecording(bundle, {});
  const drawn = { ...recording.header.drawn, kind: 'none' as const, heightFt: null };
  const score = scoreRecording({
    ...recording,
    header: { ...recording.header, drawn },
    events: [],
    samples: recording.samples.map((sample) => ({ ...sample, powerFraction: 1 })),
  });
  expect(score).toMatchObject({ overall: null, failure: null, ledger: null });
  expect(debriefText(score)).toMatch(/^No failure was drawn for this attempt: climbing on was right\.\n/);
  expect(debriefText(score)).toContain('Score: none');
});

test('stopped in the air it says why there is no total, and speaks of no highest total', () => {
  const { recording } = syntheticRecording(bundle, { bankDeg: 60 });
  const score = scoreRecording({
    ...recording,
    samples: recording.samples.filter(({ timeS }) => timeS < 80),
    end: { kind: 'end', timeS: 80, reason: 'instructor', text: 'Stopped by hand.', samples: 1 },
  });
  expect(score.findings.some(({ cap }) => cap !== undefined)).toBe(true);
  const flat = debriefText(score).replace(/\s+/g, ' ');
  expect(flat).toContain('Score: none, because the attempt was not flown down to the end.');
  expect(flat).not.toContain('The total is at most');
});
