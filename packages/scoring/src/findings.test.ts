// Findings come with their figures and caps, and only where they are due.
import type { CloseReason, Recording, Sample, Score } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { attemptOf } from './attempt.js';
import { findingsOf } from './findings.js';
import { flownRecording } from './flown.fixture.js';
import { outcomeOf } from './outcome.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { type Schedule, syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const codes = ({ findings }: Pick<Score, 'findings'>) => findings.map(({ code }) => code);
/** Findings and outcome without the verdict's flights, which only the last tests here need. */
const judge = (recording: Recording) => {
  const attempt = attemptOf(recording);
  const outcome = outcomeOf(attempt);
  const verdict = { text: '', neededFt: null, hadFt: null, returnExisted: null };
  return { outcome, findings: findingsOf(attempt, verdict, outcome) };
};
const made = (changes: Partial<Schedule>, alter: (sample: Sample, contactS: number) => Sample = (sample) => sample) => {
  const { recording, truth } = syntheticRecording(bundle, changes);
  return { ...recording, samples: recording.samples.map((sample) => alter(sample, truth.contactS)) };
};
const score = (...how: Parameters<typeof made>) => judge(made(...how));

test('a fault caps the total, and the marks alone are told beside it', () => {
  const capped = scoreRecording(made({ acrossFt: 90 }));
  expect(capped.overall).toBe(70);
  expect(capped.uncapped).toBeGreaterThan(70);
  expect(capped.headline).toMatch(/^5\d ft beside the edge of the runway at contact\.$/);
});

test('a clean turn-back has none', () => {
  expect(codes(score({}))).toEqual([]);
});

test.each([
  ['bank-at-contact', { contactBankDeg: 15 }, 40, /^15° of right bank at contact/],
  ['off-runway', { acrossFt: 90 }, 70, /^5[0-9] ft beside the edge of the runway at contact/],
  ['off-runway', { alongFt: 4700 }, 70, /^(9\d|1[01]\d) ft short of the runway at contact/],
  ['hard-contact', { sinkFpm: 1100 }, 60, /^Hard contact: 1,[01]\d\d ft\/min of sink/],
  ['off-airfield', { acrossFt: 900 }, 40, /^Outside the airfield: 8[56]\d ft beside the edge of the runway at contact/],
  ['off-airfield', { alongFt: 6000 }, 40, /^Outside the airfield: 1,[34]\d\d ft short of the runway at contact/],
  ['stall', { bankDeg: 60 }, 30, /^The wing stalled at 1,0\d\d ft, with \d\d° of bank at \d\d kt/],
] as const)('%s for %j, and it caps the total at %d', (code, changes, cap, text) => {
  const found = score(changes);
  const finding = found.findings.find((each) => each.code === code);
  expect(finding).toMatchObject({ severity: 'fault', cap });
  expect(finding?.text).toMatch(text);
});

test('a foot is not rounded away: off the edge by less than one is said so', () => {
  const halfWidthFt = bundle.runway.widthFt / 2;
  const found = score({ acrossFt: halfWidthFt + 0.3 });
  expect(found.findings.find(({ code }) => code === 'off-runway')?.text).toBe(
    'Less than 1 ft beside the edge of the runway at contact.',
  );
});

test('a crooked touchdown on the runway is not aligned', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const origin = recording.samples.find(({ timeS }) => timeS >= truth.contactS) as Sample;
  // The last two seconds before contact slide across: 60 ft/s across at 140 ft/s along is 23° off.
  const FT_PER_DEG = 364_000;
  const slid: Recording = {
    ...recording,
    samples: recording.samples.map((sample) => {
      const before = truth.contactS - sample.timeS;
      if (before < 0 || before > 2) return sample;
      const across = (60 * before) / FT_PER_DEG;
      const rightRad = ((bundle.runway.headingTrueDeg + 90) * Math.PI) / 180;
      const northing = Math.cos(rightRad) * across;
      const easting = (Math.sin(rightRad) * across) / Math.cos((origin.latitudeDeg * Math.PI) / 180);
      return { ...sample, latitudeDeg: sample.latitudeDeg + northing, longitudeDeg: sample.longitudeDeg + easting };
    }),
  };
  const found = judge(slid);
  expect(codes(found)).toContain('not-aligned');
  expect(found.findings.find(({ code }) => code === 'not-aligned')?.text).toMatch(/the track was 2[1-5]° off it/);
});

test('gear up on the runway is found for a retractable, and not where the gear is not recorded', () => {
  const up = score({}, (sample) => ({ ...sample, gearFraction: 0 }));
  expect(up.findings.find(({ code }) => code === 'gear-up')?.cap).toBe(60);
  const untold = score({}, ({ gearFraction: _, ...sample }) => sample);
  expect(codes(untold)).toEqual([]);
});

test('too far along to stop is an overrun: by the roll that was recorded, or by the handbook', () => {
  // 250 ft of runway left at 85 kt.
  const stopped = score({ alongFt: 250 });
  expect(stopped.outcome).toBe('overrun');
  expect(codes(stopped)).toContain('overrun');
  const cut = syntheticRecording(bundle, { alongFt: 250 });
  const end = cut.recording.samples.filter(({ timeS }) => timeS < cut.truth.contactS + 0.5);
  expect(judge({ ...cut.recording, samples: end }).outcome).toBe('overrun');
});

test('a turn still on near the ground is found, small corrections are not', () => {
  const banked = (size: number) =>
    score({}, (sample, contactS) => {
      const before = contactS - sample.timeS;
      return before > 2 && before < 5 ? { ...sample, bankDeg: size } : sample;
    });
  const steep = banked(45).findings.find(({ code }) => code === 'low-turn');
  expect(steep).toMatchObject({ severity: 'fault', cap: 60 });
  expect(steep?.text).toMatch(/^Still turning at \d+ ft above the runway, with 4\d° of bank/);
  const mild = banked(24).findings.find(({ code }) => code === 'low-turn');
  expect(mild?.severity).toBe('caution');
  expect(mild?.cap).toBeUndefined();
  expect(codes(banked(12))).not.toContain('low-turn');
});

test('a stall warning alone is a caution; with the margin gone it is a stall', () => {
  const warned = (changes: Partial<Schedule>) =>
    score(changes, (sample, contactS) => ({
      ...sample,
      stallWarning: sample.timeS > contactS - 30 && sample.timeS < contactS - 27,
    }));
  const horn = warned({ speedKt: 90 });
  expect(codes(horn)).toEqual(['stall-warning']);
  expect(horn.findings[0]?.text).toMatch(/^The stall warning sounded for [23]\.\d s at \d+ ft/);
  // The flown stall passes its largest lift and then carries less: the computed margin alone grows again.
  const pulled = flownRecording(bundle, 1000, {
    change: (controls, afterS) =>
      afterS > 6 && afterS < 7.5
        ? { ...controls, bankRad: Math.sign(controls.bankRad) * 1.05, pitch: { kind: 'loadFactor', loadFactor: 2.6 } }
        : controls,
  });
  expect(codes(judge(pulled))).toContain('stall');
});

/** Sinking onto the runway at a rate from some height on, with nothing done about it; the rest as recorded. */
const plunging = (sinkFpm: number, changes: Partial<Schedule> = {}) =>
  made(changes, (sample, contactS) => {
    const before = contactS - sample.timeS;
    return before > 0 && before < 1.2
      ? { ...sample, verticalSpeedFpm: -sinkFpm, heightFt: (sinkFpm / 60) * before }
      : sample;
  });

test('an impact is no landing: it is said first, earns nothing for the touchdown, and is no success', () => {
  const impact = scoreRecording(plunging(3000));
  expect(impact).toMatchObject({ outcome: 'crash', overall: 10 });
  expect(impact.criteria.touchdown.score).toBe(0);
  expect(impact.headline).toMatch(
    /^No landing anyone walks away from: 3,000 ft\/min of sink at contact, and this rubric counts 1,200 ft\/min or more as a crash\./,
  );
  expect(codes(impact)).not.toContain('hard-contact');
  const firm = scoreRecording(plunging(1000));
  expect(firm).toMatchObject({ outcome: 'stopped-on-runway', overall: 60 });
  expect(codes(firm)).toEqual(['hard-contact']);
});

test('an impact ahead was not landed ahead', () => {
  const found = scoreRecording(plunging(2000, { ahead: true, alongFt: 9000 }));
  expect(found).toMatchObject({ outcome: 'crash', overall: 10 });
  expect(found.findings.find(({ code }) => code === 'landed-ahead')?.text).toMatch(/^You went ahead after a loss/);
});

test('a rubric that says nothing about an impact, or about coming down off the airfield, caps them all the same', () => {
  const older = (recording: Recording): Recording => {
    const { rubric } = recording.header;
    const { crash: _, 'off-airfield': __, ...caps } = rubric.caps;
    const { crashSinkFpm: ___, ...touchdown } = rubric.touchdown;
    return { ...recording, header: { ...recording.header, rubric: { ...rubric, caps, touchdown } } };
  };
  expect(judge(older(plunging(3000))).findings).toMatchObject([{ code: 'crash', cap: 10 }]);
  expect(judge(older(made({ acrossFt: 900 }))).findings).toMatchObject([{ code: 'off-airfield', cap: 40 }]);
});

test('beside the edge of a runway whose airfield is not stated is off the runway, not off the airfield', () => {
  const recording = made({ acrossFt: 60 });
  const runway = { ...recording.header.runway, airfield: { beyondEndFt: 0, besideFt: 0 } };
  const found = judge({ ...recording, header: { ...recording.header, runway } });
  expect(codes(found)).toEqual(['off-runway']);
  expect(found.outcome).toBe('on-airfield');
});

test('stopped in the air there is no total, whatever was measured until then', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const atS = truth.actionS + 8;
  const ended = (reason: CloseReason) =>
    scoreRecording({
      ...recording,
      samples: recording.samples.filter(({ timeS }) => timeS < atS),
      end: { kind: 'end', timeS: atS, reason, text: 'Ended.', samples: 1 },
    });
  const stopped = ended('instructor');
  expect(stopped).toMatchObject({ overall: null, uncapped: null, outcome: 'no-contact' });
  expect(stopped.criteria.bank.score).toBeGreaterThan(90);
  const finding = stopped.findings.find(({ code }) => code === 'not-flown-out');
  expect(finding).toMatchObject({ severity: 'caution' });
  expect(finding?.cap).toBeUndefined();
  expect(finding?.text).toMatch(
    /^Stopped by hand at \d{3} ft, so there is no total: only an attempt flown down to the ground shows how it ends\.$/,
  );
  expect(stopped.headline).toBe(finding?.text);
  for (const [reason, words] of [
    ['simulator-reset', /^The simulator was reset at \d{3} ft, so there is no total/],
    ['link-lost', /^The data ended at \d{3} ft, so there is no total/],
    ['interrupted', /^The data ended at \d{3} ft, so there is no total/],
    ['left-area', /^The aeroplane left the area at \d{3} ft, so there is no total/],
    ['stopped', /^This recording holds no contact with the ground, so there is no total/],
  ] as const)
    expect(ended(reason).headline).toMatch(words);
});

test('going around on power that came back has no total either; down on the floor has one', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const restoredS = truth.actionS + 12;
  const back = scoreRecording({
    ...recording,
    events: [...recording.events, { kind: 'event', timeS: restoredS, code: 'restored', text: 'Power is back.' }],
  });
  expect(back.overall).toBeNull();
  expect(back.headline).toMatch(/^Power came back at \d{3} ft, so there is no total/);
  const scenario = { ...bundle.scenario, practice: { from: 'floor' as const, floorAltitudeFt: 400 } };
  const floor = scoreRecording({ ...recording, header: { ...recording.header, scenario } });
  expect(floor.overall).not.toBeNull();
  expect(codes(floor)).not.toContain('not-flown-out');
});

test('stopped after the wing stalled, the stall still stands first', () => {
  const { recording } = syntheticRecording(bundle, { bankDeg: 60 });
  const stalled = judge(recording).findings.find(({ code }) => code === 'stall')?.atS ?? 0;
  const cut = scoreRecording({
    ...recording,
    samples: recording.samples.filter(({ timeS }) => timeS < stalled + 2),
    end: { kind: 'end', timeS: stalled + 2, reason: 'instructor', text: 'Stopped by hand.', samples: 1 },
  });
  expect(cut).toMatchObject({ overall: null, outcome: 'stall' });
  expect(cut.headline).toMatch(/^The wing stalled at/);
});

test('meeting the ground is no pull: nothing stalls there, with the load factor recorded or estimated', () => {
  const bare = ({ loadFactor: _, stallWarning: __, ...sample }: Sample): Sample => sample;
  // 74 kt is 1.16 times the stall speed: 1.34 g would use it up.
  for (const sinkFpm of [500, 700, 850, 1461]) {
    const unflared = plunging(sinkFpm, { speedKt: 74, bankDeg: 25 });
    expect(codes(judge({ ...unflared, samples: unflared.samples.map(bare) }))).not.toContain('stall');
    const jolted = unflared.samples.map((sample) => (sample.onGround ? { ...sample, loadFactor: 4 } : sample));
    expect(codes(judge({ ...unflared, samples: jolted }))).not.toContain('stall');
  }
  const frozen = flownRecording(bundle, 900, { frozen: true });
  expect(judge({ ...frozen, samples: frozen.samples.map(bare) }).outcome).not.toBe('stall');
  // A pull in the air is still seen without either channel.
  const pulled = made({ bankDeg: 60 }, bare);
  expect(codes(judge(pulled))).toContain('stall');
});

test('gaps in the data, and a recording that broke off, are said', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const holed = recording.samples.filter(({ timeS }) => timeS < truth.actionS + 10 || timeS > truth.actionS + 13);
  const found = judge({ ...recording, samples: holed });
  expect(found.findings).toMatchObject([{ code: 'data-gap', severity: 'caution' }]);
  expect(found.findings[0]?.text).toMatch(/^A gap of 3\.[01] s in the data/);
  const broken = judge({
    ...recording,
    samples: recording.samples.filter(({ timeS }) => timeS < truth.actionS + 10),
    end: null,
  });
  expect(broken.outcome).toBe('no-contact');
  expect(broken.findings.at(-1)?.text).toBe('The recording broke off before the attempt was closed.');
});

test('acting before the loss is a caution with the time', () => {
  const early = score({ delayS: -1.5 });
  expect(early.findings[0]).toMatchObject({ code: 'reacted-early', severity: 'caution' });
  expect(early.findings[0]?.text).toMatch(/^You began to bank 1\.[45] s before the power was lost\./);
});

test('turning back where the model finds no return caps the total, unless it came off', () => {
  const low = flownRecording(bundle, 420, { technique: { turn: 'left' } });
  const found = scoreRecording(low);
  expect(found.verdict.returnExisted).toBe(false);
  expect(found.findings.find(({ code }) => code === 'turned-back-without-return')).toMatchObject({
    severity: 'fault',
    cap: 50,
  });
});

test('landing ahead is a note; that a return was open is another, and neither costs anything', () => {
  const open = scoreRecording(flownRecording(bundle, 900, { technique: { turn: 'ahead' } }));
  expect(open.findings).toMatchObject([
    { code: 'return-was-open', severity: 'note' },
    { code: 'landed-ahead', severity: 'note' },
  ]);
  expect(open.overall).toBeGreaterThan(90);
  const closed = scoreRecording(flownRecording(bundle, 420, { technique: { turn: 'ahead' } }));
  expect(codes(closed)).toEqual(['landed-ahead']);
  expect(closed.findings[0]?.text).toMatch(/where a return needed \d{3} ft: the right choice\.$/);
  expect(closed.overall).toBeGreaterThan(90);
});
