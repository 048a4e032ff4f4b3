// The sentence that stands first: what to do differently, or what went well.
import type { Costs, Criterion, CriterionName, Finding, FindingCode, FlownOutcome } from '@stillprop/contracts';
import type { Attempt } from './attempt.js';
import type { Marked } from './criteria/marks.js';
import { degrees, feet, feetPerMinute, knots, listed, ratio, seconds, secondsAsked } from './words.js';

/** A loss of fewer points than this is not worth a headline. */
const WORTH_POINTS = 3;
const WORTH_FT = 20;

/** Faults that stand first even where the marks are lower than their cap; what comes sooner here leads to the rest. */
const FIRST_OF_ALL: readonly FindingCode[] = ['no-action', 'stall', 'crash'];

interface Scored {
  readonly criteria: { readonly [name in CriterionName]: Criterion };
  readonly findings: readonly Finding[];
  readonly outcome: FlownOutcome;
  readonly overall: number | null;
  readonly uncapped: number | null;
  readonly costs: Costs | null;
}

const OUTCOME_WORDS: { readonly [outcome in FlownOutcome]: string } = {
  'stopped-on-runway': 'You made the runway',
  overrun: 'You reached the runway too far along to stop',
  'on-airfield': 'You came down on the airfield, beside the runway',
  'off-airfield': 'You came down outside the airfield',
  'wing-low-contact': 'You touched down with a wing low',
  crash: 'You hit the ground too hard to walk away',
  stall: 'You stalled',
  'landed-ahead': 'You landed ahead under control',
  'no-contact': 'The recording ends in the air',
  'not-known': 'You came down, but the recording cannot tell where',
};

/**
 * One sentence (or two): the finding that cost most, when one caps the total; else how it ended and the criterion that
 * cost most points, with its figure and the height it is worth; else what went well. An attempt that ended in the air says so instead.
 */
export function headlineOf(attempt: Attempt, scored: Scored): string {
  const { findings, overall, uncapped, outcome } = scored;
  if (attempt.moments.lossS === null)
    return findings.find(({ code }) => code === 'no-failure')?.text ?? 'Nothing to score.';
  const capping = findings
    .filter(({ code, cap }) => cap !== undefined && (cap < (uncapped ?? 0) || FIRST_OF_ALL.includes(code)))
    .sort((a, b) => rankOf(a) - rankOf(b) || (a.cap as number) - (b.cap as number))[0];
  if (capping !== undefined) return capping.text;
  const unfinished = findings.find(({ code }) => code === 'not-flown-out');
  if (unfinished !== undefined) return unfinished.text;
  if (overall === null) return 'The power was lost, but the recording holds too little to score.';
  const floor = attempt.recording.header.scenario.practice.from === 'floor' && attempt.moments.contactS !== null;
  const aheadOnIt = attempt.kind === 'ahead' && outcome === 'stopped-on-runway';
  const landed = aheadOnIt ? 'You landed ahead on the runway' : OUTCOME_WORDS[outcome];
  const ended = floor ? 'You flew it down to the floor' : landed;
  const worst = costliest(scored.criteria);
  if (worst === null) return `${ended}${wentWell(scored.criteria, attempt)}.`;
  return `${ended}. Most was lost ${lossOf(worst, scored.criteria[worst], attempt)}${worth(worst, scored.costs)}.`;
}

/** What putting it right is worth, to ten feet; less is not worth a word. */
function worth(name: CriterionName, costs: Costs | null): string {
  const costFt = costs?.rows.find(({ code }) => code === name)?.costFt ?? 0;
  return costFt < WORTH_FT ? '' : `, worth about ${feet(10 * Math.round(costFt / 10))}`;
}

function rankOf({ code }: Finding): number {
  const rank = FIRST_OF_ALL.indexOf(code);
  return rank < 0 ? FIRST_OF_ALL.length : rank;
}

/** The criterion that took most points off the total; null when none took any worth naming. */
function costliest(criteria: Scored['criteria']): CriterionName | null {
  let worst: CriterionName | null = null;
  let most = WORTH_POINTS;
  for (const name of ['delay', 'bank', 'airspeed', 'touchdown'] as const) {
    const { score, weight } = criteria[name];
    const lost = score === null ? 0 : (100 - score) * weight;
    if (lost <= most) continue;
    most = lost;
    worst = name;
  }
  return worst;
}

/** What was done right, from what was measured: ": you acted in 2.9 s, held 45° of bank and 85 kt, ...". */
function wentWell({ delay, bank, airspeed }: Scored['criteria'], { kind, touchdown }: Attempt): string {
  const held: string[] = [];
  if (kind === 'return' && bank.measured !== null) held.push(`${degrees(bank.measured)} of bank`);
  if (airspeed.measured !== null) held.push(knots(airspeed.measured));
  const parts: string[] = [];
  if (delay.measured !== null) parts.push(`acted in ${seconds(delay.measured)}`);
  if (held.length > 0) parts.push(`held ${listed(held)}`);
  const { stopMarginFt = null, stopSeen = false } = touchdown ?? {};
  if (stopMarginFt !== null && stopMarginFt >= 0) parts.push(`had ${feet(stopMarginFt)} of runway left`);
  if (stopMarginFt !== null && stopMarginFt < 0)
    parts.push(`${stopSeen ? 'rolled' : 'would roll'} ${feet(-stopMarginFt)} past the end of the runway`);
  return parts.length === 0 ? '' : `: you ${listed(parts)}`;
}

function lossOf(name: CriterionName, criterion: Marked, attempt: Attempt): string {
  const { target, band } = criterion;
  const measured = criterion.measured ?? 0;
  switch (name) {
    case 'delay':
      return `by waiting ${seconds(measured)} before you acted: act within ${secondsAsked(target)}`;
    case 'bank': {
      if (attempt.kind === 'ahead')
        return `by ${degrees(measured)} of bank on the way down: stay within ${degrees(target)}`;
      const mean = `${degrees(measured)} in the turn, where ${degrees(target)} was asked`;
      if (measured > (band.to ?? target)) return `by too much bank: ${mean}`;
      if (measured < (band.from ?? target)) return `by too little bank: ${mean}`;
      const { largestDeg, overShare = 0, underShare = 0 } = criterion.details;
      if (typeof largestDeg === 'number' && (overShare ?? 0) > (underShare ?? 0))
        return `by too much bank: up to ${degrees(largestDeg)}, where ${degrees(target)} was asked`;
      return `by unsteady bank: off the ${degrees(target)} asked by ${degrees(criterion.details.deviationDeg ?? 0)} over the turn`;
    }
    case 'airspeed': {
      const { leastStallMargin, speedMarks, marginMarks, deviationKt } = criterion.details;
      if (typeof marginMarks === 'number' && marginMarks < (speedMarks ?? 0))
        return `by flying too near the stall: ${ratio(leastStallMargin ?? 1)} times the stall speed at the least, where ${ratio(attempt.recording.header.rubric.airspeed.fullStallMargin)} was asked`;
      if (measured > (band.to ?? target))
        return `by flying too fast: ${knots(measured)}, where ${knots(target)} was asked`;
      if (measured < (band.from ?? target))
        return `by flying too slowly: ${knots(measured)}, where ${knots(target)} was asked`;
      return `by unsteady speed: off the ${knots(target)} asked by ${knots(deviationKt ?? 0)} over the time`;
    }
    case 'touchdown':
      return touchdownLoss(measured, attempt);
  }
}

function touchdownLoss(measured: number, { kind, touchdown, recording }: Attempt): string {
  const { fullSinkFpm } = recording.header.rubric.touchdown;
  const sink = touchdown?.sinkFpm ?? 0;
  if (kind === 'ahead') {
    if (sink > fullSinkFpm)
      return `at the touchdown: ${feetPerMinute(sink)} of sink, where ${feetPerMinute(fullSinkFpm)} is gentle`;
    if (Math.abs(touchdown?.bankDeg ?? 0) > 5)
      return `at the touchdown: ${degrees(Math.abs(touchdown?.bankDeg ?? 0))} of bank still on`;
    return `at the touchdown: ${ratio(touchdown?.stallSpeedRatio ?? 1)} times the stall speed is fast for a field`;
  }
  const across = Math.abs(touchdown?.landing?.acrossFt ?? 0);
  const { fullLongFt, fullAcrossFt } = recording.header.rubric.touchdown;
  const onPoint = measured >= 0 && measured <= fullLongFt;
  if (!onPoint)
    return `at the touchdown: ${feet(Math.abs(measured))} ${measured < 0 ? 'short of' : 'beyond'} the aim point`;
  if (across > fullAcrossFt) return `at the touchdown: ${feet(across)} off the centreline`;
  return `at the touchdown: ${feetPerMinute(sink)} of sink, where ${feetPerMinute(fullSinkFpm)} is gentle`;
}
