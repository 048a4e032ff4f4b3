// Recordings as they come: several attempts in one, pauses, bounces, stretches and channels lost. The truth is put in.
import type { Recording, Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { aboutRecording } from './aboutRecording.js';
import { attemptOf } from './attempt.js';
import { airspeedCriterion } from './criteria/airspeed.js';
import { bankCriterion } from './criteria/bank.js';
import { delayCriterion } from './criteria/delay.js';
import { touchdownCriterion } from './criteria/touchdown.js';
import { findingsOf } from './findings.js';
import { takeOffBegins } from './groundContact.js';
import {
  bounced,
  dropped,
  lacking,
  oneAfterTheOther,
  PAUSE_KINDS,
  type PauseKind,
  paused,
} from './impaired.fixture.js';
import { outcomeOf } from './outcome.js';
import { recordedMoment } from './recordedMoment.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { degraded, syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const RATES_HZ = [5, 20];

/** Every moment of an attempt, by the clock of the recording. */
function momentsIn(recording: Recording): { readonly [name: string]: number | null } {
  const { moments, toRecorded } = attemptOf(recording);
  const { turn } = moments;
  const all = {
    liftOff: moments.liftOffS,
    loss: moments.lossS,
    action: moments.firstActionS,
    push: moments.pushCompleteS,
    bank: moments.bankEstablishedS,
    turned90: turn?.turned90S ?? null,
    turned180: turn?.turned180S ?? null,
    level: moments.wingsLevelS,
    aligned: moments.alignedS,
    gear: moments.gearDownS,
    flare: moments.flareS,
    contact: moments.contactS,
    lastContact: moments.lastContactS,
    stopped: moments.stoppedS,
  };
  return Object.fromEntries(Object.entries(all).map(([name, atS]) => [name, atS === null ? null : toRecorded(atS)]));
}

interface Expected {
  readonly laterByS?: (atS: number) => number;
  readonly withinS?: number;
  readonly but?: { readonly [name: string]: number };
  readonly leaving?: readonly string[];
}

/** As in the whole recording, later by what was put in between. */
function expectAsIn(
  whole: Recording,
  impaired: Recording,
  { laterByS = () => 0, withinS = 0.06, but = {}, leaving = [] }: Expected,
): void {
  const found = momentsIn(impaired);
  for (const [name, atS] of Object.entries(momentsIn(whole))) {
    if (leaving.includes(name)) continue;
    if (atS === null) expect(found[name], name).toBeNull();
    else expect(Math.abs((found[name] ?? Number.NaN) - atS - laterByS(atS)), name).toBeLessThan(but[name] ?? withinS);
  }
}

/** Notes and faults that need no modelled flight. */
const codes = (recording: Recording) => {
  const attempt = attemptOf(recording);
  const untold = { text: '', neededFt: null, hadFt: null, returnExisted: null };
  return findingsOf(attempt, untold, outcomeOf(attempt)).map(({ code }) => code);
};
const marksOf = (recording: Recording) => {
  const attempt = attemptOf(recording);
  const criteria = [delayCriterion, bankCriterion, airspeedCriterion, touchdownCriterion];
  return criteria.map((criterion) => criterion(attempt).score ?? Number.NaN);
};

describe.each(RATES_HZ)('at %d Hz', (rateHz) => {
  const clean = syntheticRecording(bundle, { rateHz });
  const { truth } = clean;
  const noisy = degraded(clean.recording, 3);
  const second = clean.recording;
  const circuit: Recording = { ...clean.recording, events: [] };

  describe('pauses', () => {
    const moments = { delay: truth.lossS + 1.5, turn: truth.actionS + 6, flare: truth.contactS - 2 };
    const cases = PAUSE_KINDS.flatMap((kind) =>
      [2, 120].flatMap((lastsS) => Object.entries(moments).map(([name, atS]) => [kind, lastsS, name, atS] as const)),
    );
    test.each(cases)('%s, of %d s in the %s, move what comes later and nothing else', (kind, lastsS, _name, atS) => {
      for (const recording of [clean.recording, noisy])
        expectAsIn(recording, paused(recording, kind, atS, lastsS), {
          laterByS: (at) => (kind === 'frozen' || at <= atS ? 0 : lastsS),
        });
    });

    test.each(PAUSE_KINDS)('%s: the marks are as without', (kind: PauseKind) => {
      const found = marksOf(paused(clean.recording, kind, truth.lossS + 1.5, 120));
      for (const [i, mark] of marksOf(clean.recording).entries()) expect(found[i]).toBeCloseTo(mark, 0);
    });

    test.each(rateHz === 20 ? (['repeated', 'jump'] as const) : [])(
      '%s: times meet the samples, and it is said',
      (kind) => {
        const atS = truth.lossS + 1.5;
        const score = scoreRecording(paused(clean.recording, kind, atS, 120));
        const contactS = score.events.find(({ code }) => code === 'contact')?.atS ?? 0;
        expect(Math.abs(contactS - truth.contactS - 120)).toBeLessThan(0.1);
        expect(score.phases.find(({ name }) => name === 'turn')?.fromS).toBeGreaterThan(truth.actionS + 120);
        const note = score.findings.find(({ code }) => code === 'paused');
        expect(note?.text).toMatch(/stood still once after the loss of power, for (120\.0|119\.\d) s/);
        expect(Math.abs((note?.atS ?? 0) - atS)).toBeLessThan(1 / rateHz + 0.01);
        const moment = recordedMoment(paused(clean.recording, kind, atS, 120), truth.actionS + 125);
        const same = recordedMoment(clean.recording, truth.actionS + 5);
        if (!moment.ok || !same.ok) throw new Error('both are in the air');
        expect(moment.moment.start.heightFt).toBeCloseTo(same.moment.start.heightFt, -1);
        expect(moment.moment.timeS).toBeCloseTo(truth.actionS + 125, 6);
      },
    );
  });

  test('values that come only once a second, or a long gap, are no pause', () => {
    const samples = clean.recording.samples;
    const coarse = samples.map((sample, i): Sample => {
      const { timeS, ...rest } = samples[i - (i % rateHz)] as Sample;
      return { ...rest, timeS: sample.timeS };
    });
    expect(attemptOf({ ...clean.recording, samples: coarse }).pauses).toEqual([]);
    for (const lastsS of [3, 15]) {
      const lost = dropped(clean.recording, truth.actionS + 2, lastsS);
      expect(attemptOf(lost).pauses).toEqual([]);
    }
    expect(attemptOf(clean.recording).recording).toBe(clean.recording);
  });

  describe('several attempts in one recording', () => {
    const after = oneAfterTheOther(circuit, truth.contactS + 3, second, 9, 40);
    const goneAround = oneAfterTheOther(circuit, truth.contactS - 3, second, 13, 60);
    const twice = oneAfterTheOther(clean.recording, truth.contactS + 3, second, 9, 40);

    test('a touch-and-go, a second take-off and then the failure: the failure is scored', () => {
      for (const recording of [after.recording, { ...after.recording, events: [] }])
        expectAsIn(second, recording, { laterByS: () => after.laterByS });
      const { flight, moments } = attemptOf(after.recording);
      const beginsS = takeOffBegins(flight, moments.liftOffS);
      expect(Math.abs(beginsS - truth.contactS)).toBeLessThan(1 / rateHz + 0.01);
      expect(codes(after.recording)).not.toContain('several-failures');
    });

    test('a go-around and then the failure: the failure is scored, from the only lift-off', () => {
      for (const recording of [goneAround.recording, { ...goneAround.recording, events: [] }])
        expectAsIn(second, recording, { laterByS: () => goneAround.laterByS, leaving: ['liftOff'] });
      expect(momentsIn(goneAround.recording).liftOff).toBeCloseTo(momentsIn(second).liftOff ?? 0, 6);
    });

    test('two failures flown to the ground: the last is scored, and that is said', () => {
      for (const recording of [twice.recording, { ...twice.recording, events: [] }]) {
        expectAsIn(second, recording, { laterByS: () => twice.laterByS });
        const notes = aboutRecording(attemptOf(recording));
        expect(notes.map(({ code }) => code)).toEqual(['several-failures']);
        expect(notes[0]?.text).toContain('2 losses of power');
      }
    });

    test('two failures, the second broken off: the first is scored, up to where the next take-off begins', () => {
      const events = [
        ...twice.recording.events,
        { kind: 'event' as const, timeS: twice.laterByS + truth.actionS + 5, code: 'restored' as const, text: 'Back.' },
      ];
      expectAsIn(clean.recording, { ...twice.recording, events }, { leaving: ['stopped'] });
      const { moments } = attemptOf({ ...twice.recording, events });
      expect(moments.stoppedS).toBeNull();
      expect(moments.endS).toBeLessThan(twice.laterByS + truth.liftOffS + 0.5);
    });

    test('the exercise’s failure, then a circuit without one: the failure is scored', () => {
      const { events } = clean.recording;
      expectAsIn(clean.recording, { ...twice.recording, events }, { leaving: ['stopped'] });
      expect(codes({ ...twice.recording, events })).not.toContain('several-failures');
    });

    test('after a reset the stretch that holds the failure is scored, however short', () => {
      // The first flight is the longer one; then the simulator is put back to the runway and time begins anew.
      const wait = circuit.samples.filter(({ timeS }) => timeS < 5);
      const long = [...wait, ...circuit.samples.map((sample) => ({ ...sample, timeS: sample.timeS + 5 }))];
      const moved = second.samples.map((sample) => ({ ...sample, timeS: sample.timeS + 200 }));
      const events = second.events.map((event) => ({ ...event, timeS: (event.timeS ?? 0) + 200 }));
      expectAsIn(second, { ...second, samples: [...long, ...moved], events }, { laterByS: () => 200 });
    });
  });

  test('a bounce has its first and its last contact; a sink held to it is that of the first', () => {
    for (const [lastsS, upFt] of [
      [1.5, 4],
      [4, 20],
    ] as const) {
      const found = momentsIn(bounced(clean.recording, truth.contactS, lastsS, upFt));
      expect(Math.abs((found.contact ?? 0) - truth.contactS)).toBeLessThan(0.06);
      expect(Math.abs((found.lastContact ?? 0) - truth.contactS - 0.5 - lastsS)).toBeLessThan(1 / rateHz + 0.05);
    }
  });

  describe('stretches lost', () => {
    const shares = [0.1, 0.5, 0.9];
    test.each(shares)('0.5 s, %d of it before the loss, the action, the touchdown', (share) => {
      for (const recording of [clean.recording, noisy]) {
        const withinS = 0.4; // the action under noise: no worse than the length that is lost
        const at = (atS: number) => dropped(recording, atS - share * 0.5, 0.5);
        const but = { loss: 0.15, action: 0.65, contact: 0.2, lastContact: 0.2 };
        for (const atS of [truth.lossS, truth.actionS, truth.contactS])
          expectAsIn(recording, at(atS), { withinS, but });
      }
    });

    test.each(shares)('3 s, %d of it before the loss: the command tells the moment', (share) => {
      const lost = dropped(noisy, truth.lossS - share * 3, 3);
      expect(Math.abs((momentsIn(lost).loss ?? 0) - truth.lossS)).toBeLessThan(0.05);
      expect(Math.abs((momentsIn(lost).action ?? 0) - truth.actionS)).toBeLessThan(0.6);
    });

    test.each(shares)('3 s, %d of it before the action: found within what is said of it', (share) => {
      for (const recording of [clean.recording, noisy]) {
        const { moments } = attemptOf(dropped(recording, truth.actionS - share * 3, 3));
        const offS = Math.abs((moments.firstActionS ?? Number.NaN) - truth.actionS);
        expect(offS).toBeLessThan(0.35 + (moments.actionGiveOrTakeS ?? 0));
        expect(offS).toBeLessThan(1.5);
      }
      const half = dropped(clean.recording, truth.actionS - 1.5, 3);
      expect(delayCriterion(attemptOf(half)).text).toMatch(
        /The data has a gap there: it may have been 0\.\d s sooner or later\./,
      );
      expect(codes(half)).toContain('data-gap');
    });

    test.each(shares)(
      '3 s, %d of it before the touchdown: found within half a second, its sink not marked',
      (share) => {
        for (const recording of [clean.recording, noisy]) {
          const lost = dropped(recording, truth.contactS - share * 3, 3);
          const { moments, touchdown } = attemptOf(lost);
          expect(Math.abs((moments.contactS ?? Number.NaN) - truth.contactS)).toBeLessThan(0.6);
          expect(touchdown?.crashed).toBe(false);
          expect(codes(lost)).toContain('data-gap');
          expect(codes(lost)).not.toContain('hard-contact');
        }
        const touchdown = touchdownCriterion(attemptOf(dropped(clean.recording, truth.contactS - 2.7, 3)));
        expect(touchdown.details.sinkFpm).toBeNull();
        expect(touchdown.text).toContain('Sink at contact is not measured.');
      },
    );
  });

  test.each([
    ['heightFt', {}],
    ['trueAirspeedKt', {}],
    ['groundspeedKt', { but: { stopped: 0.3 } }],
    ['loadFactor', {}],
    ['powerFraction', {}],
    ['gearFraction', { leaving: ['gear'] }],
    ['onGround', { but: { liftOff: 0.6, contact: 0.3, lastContact: 0.3, stopped: 0.3 } }],
    ['stallWarning', {}],
  ] as const)('without %s the moments that do not rest on it are the same', (channel, expected) => {
    const withoutIt = lacking(clean.recording, channel);
    expectAsIn(clean.recording, withoutIt, expected);
    const found = marksOf(withoutIt);
    for (const [i, mark] of marksOf(clean.recording).entries())
      expect(Math.abs((found[i] ?? Number.NaN) - mark)).toBeLessThan(6);
  });
});
