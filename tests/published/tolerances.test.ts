// The tolerances of the ready rubrics against those published, where a rubric says it takes them from there.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Rubric } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { ROOT } from '../support/command.js';

const rubric = (id: string) =>
  Rubric.parse(JSON.parse(readFileSync(join(ROOT, 'fixtures/rubrics', `${id}.json`), 'utf8')));

// FAA-S-ACS-6C (private) and FAA-S-ACS-7B (commercial), Airman Certification Standards, both in force from 31 May 2024.
const PRIVATE = {
  steepTurnBankDeg: 5, // V.A
  slowFlightBankDeg: 10, // VII.A
  approachAboveKt: 10, // IV.B
  approachBelowKt: 5, // IV.B
  emergencyGlideKt: 10, // IX.B
  landingBeyondPointFt: 400, // IV.B
} as const;
const COMMERCIAL = {
  steepTurnBankDeg: 5, // V.A
  approachKt: 5, // IV.B
  powerOff180BeyondFt: 200, // IV.M
} as const;

describe('where a rubric names a standard, its figures are those of it', () => {
  test('standard', () => {
    const { bank, airspeed, touchdown } = rubric('standard');
    expect(bank.fullWithinDeg).toBe(PRIVATE.steepTurnBankDeg);
    expect([airspeed.fullAboveKt, airspeed.fullBelowKt]).toEqual([PRIVATE.approachAboveKt, PRIVATE.approachBelowKt]);
    expect([touchdown.fullShortFt, touchdown.fullLongFt]).toEqual([0, PRIVATE.landingBeyondPointFt]);
  });
  test('first lessons', () => {
    const { bank, airspeed } = rubric('first-lessons');
    expect(bank.fullWithinDeg).toBe(PRIVATE.slowFlightBankDeg);
    expect([airspeed.fullAboveKt, airspeed.fullBelowKt]).toEqual([PRIVATE.emergencyGlideKt, PRIVATE.emergencyGlideKt]);
  });
  test('strict', () => {
    const { bank, airspeed, touchdown } = rubric('strict');
    expect(bank.fullWithinDeg).toBe(COMMERCIAL.steepTurnBankDeg);
    expect([airspeed.fullAboveKt, airspeed.fullBelowKt]).toEqual([COMMERCIAL.approachKt, COMMERCIAL.approachKt]);
    expect([touchdown.fullShortFt, touchdown.fullLongFt]).toEqual([0, COMMERCIAL.powerOff180BeyondFt]);
  });
});

// 3 s: published flight trials of turn-backs (AOPA Air Safety Institute, June 2021). 45 degrees of bank as the target of
// the ready techniques: common practice, no source.
test('the delay of the ready techniques is that of the published trials, their bank common practice', () => {
  for (const id of ['first-turn-back', 'unknown-height', 'turn-over-a-floor']) {
    const { technique } = JSON.parse(readFileSync(join(ROOT, 'fixtures/scenarios', `${id}.json`), 'utf8'));
    expect([technique.delayS, technique.bankDeg], id).toEqual([3, 45]);
  }
  expect(rubric('standard').delay.fullWithinS).toBe(3);
});

test('each is stricter than the one before it, in every tolerance', () => {
  const figures = (id: string) => {
    const { delay, bank, airspeed, touchdown } = rubric(id);
    return [
      delay.fullWithinS,
      delay.zeroAtS,
      bank.fullWithinDeg,
      bank.zeroUnderByDeg,
      bank.zeroOverByDeg,
      airspeed.fullAboveKt,
      airspeed.fullBelowKt,
      airspeed.zeroAboveKt,
      airspeed.zeroBelowKt,
      -airspeed.fullStallMargin,
      touchdown.fullLongFt,
      touchdown.zeroLongFt,
      touchdown.fullAcrossFt,
      touchdown.fullSinkFpm,
    ];
  };
  const [first, standard, strict] = ['first-lessons', 'standard', 'strict'].map(figures);
  for (const [i, value] of (standard ?? []).entries()) {
    expect(first?.[i], String(i)).toBeGreaterThanOrEqual(value);
    expect(strict?.[i], String(i)).toBeLessThanOrEqual(value);
  }
});
