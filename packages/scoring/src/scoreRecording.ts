// The score of a recording: criteria with their weights, findings with their caps, ledger, verdict, headline.
import type { Criterion, CriterionName, Recording, Score, WindUsed } from '@stillprop/contracts';
import { type Attempt, attemptOf } from './attempt.js';
import { valueAt } from './columns.js';
import { airspeedCriterion } from './criteria/airspeed.js';
import { bankCriterion } from './criteria/bank.js';
import { delayCriterion } from './criteria/delay.js';
import type { Marked } from './criteria/marks.js';
import { touchdownCriterion } from './criteria/touchdown.js';
import { deviationCosts } from './deviationCosts.js';
import { ENGINE_REVISION } from './engineRevision.js';
import { findingsOf } from './findings.js';
import { takeOffBegins } from './groundContact.js';
import { headlineOf } from './headline.js';
import { ledgerOf } from './ledger.js';
import { notFlownOut } from './notFlownOut.js';
import { outcomeOf } from './outcome.js';
import { phasesOf, spansOf } from './phases.js';
import { inRecordedTime } from './recordedTime.js';
import { scoreEventsOf } from './scoreEvents.js';
import { measuredFindings, verdictUntold, whyUnmeasured, withoutMarks } from './unmeasured.js';
import { verdictOf } from './verdict.js';
import type { FlownWind, WindAt } from './windFlown.js';
import { rounded, roundedOrNull } from './words.js';

const CRITERIA = {
  delay: delayCriterion,
  bank: bankCriterion,
  airspeed: airspeedCriterion,
  touchdown: touchdownCriterion,
} as const satisfies { readonly [name in CriterionName]: (attempt: Attempt) => Marked };
const NAMES = Object.keys(CRITERIA) as CriterionName[];

/**
 * Scores one recording against the rubric in its header.
 *
 * @param recording As read by `readRecording`: schema-valid, in any order of samples, complete or broken off.
 * @returns Overall 0 to 100 in whole points: the mean of the criteria that were measured, by the rubric's weights, at
 *   most the lowest cap of any finding; null when no criterion was measured, and when it ended in the air after a loss
 *   of power. Criteria that lack their channels have a null score and weight 0. The same recording always gives the
 *   same bytes.
 */
export function scoreRecording(recording: Recording): Score {
  const attempt = attemptOf(recording);
  const score = scoreOf(attempt);
  return attempt.pauses.length === 0 ? score : inRecordedTime(score, attempt.toRecorded);
}

function scoreOf(attempt: Attempt): Score {
  const { recording, flight, moments } = attempt;
  const { rubric, attemptId } = recording.header;
  const criteria = weighed(attempt);
  const outcome = outcomeOf(attempt);
  const untold = verdictUntold(recording);
  const { giveOrTakeFt, ...verdict } = untold === null ? verdictOf(attempt) : { ...untold, giveOrTakeFt: null };
  const findings = measuredFindings(recording, findingsOf(attempt, verdict, outcome));
  const uncapped = notFlownOut(attempt) === null ? mean(criteria) : null;
  const cap = findings.reduce((least, finding) => Math.min(least, finding.cap ?? 100), 100);
  const overall = uncapped === null ? null : Math.round(Math.min(uncapped, cap));
  const costs = untold === null ? deviationCosts(attempt) : null;
  const spans = spansOf(moments, takeOffBegins(flight, moments.liftOffS));
  return {
    attemptId,
    overall,
    uncapped: uncapped === null ? null : Math.round(uncapped),
    headline: headlineOf(attempt, { criteria, findings, outcome, overall, uncapped, costs }),
    outcome,
    criteria,
    findings,
    verdict,
    ledger: untold === null ? ledgerOf(attempt, spans) : null,
    costs,
    ...(attempt.wind === null ? {} : { wind: windUsed(attempt.wind, giveOrTakeFt) }),
    events: scoreEventsOf(attempt),
    phases: phasesOf(spans),
    failure: failureOf(attempt),
    engineRevision: ENGINE_REVISION,
    rubric: { id: rubric.id, revision: rubric.revision, name: rubric.name },
  };
}

function windUsed(wind: FlownWind, neededGiveOrTakeFt: number | null): WindUsed {
  const { source, heightFt, scenario, estimate } = wind;
  const told = ({ fromTrueDeg, speedKt }: WindAt) => ({
    fromTrueDeg: rounded(fromTrueDeg, 0) % 360,
    speedKt: rounded(speedKt, 1),
  });
  return {
    source,
    heightFt: rounded(heightFt, 0),
    scenario: told(scenario),
    estimate: estimate === null ? null : { ...told(estimate), standardErrorKt: rounded(estimate.standardErrorKt, 1) },
    neededGiveOrTakeFt,
  };
}

/** Each criterion with its share of the total among those measured. */
function weighed(attempt: Attempt): { [name in CriterionName]: Criterion } {
  const { rubric } = attempt.recording.header;
  const marked = NAMES.map((name) => {
    const mark = CRITERIA[name](attempt);
    const why = whyUnmeasured(attempt.recording, name);
    return { name, mark: why === null ? mark : withoutMarks(mark, why) };
  });
  const total = marked.reduce((sum, { name, mark }) => sum + (mark.score === null ? 0 : rubric[name].weight), 0);
  const entries = marked.map(({ name, mark }): [CriterionName, Criterion] => {
    const weight = mark.score === null || total === 0 ? 0 : rubric[name].weight / total;
    return [name, { ...mark, score: roundedOrNull(mark.score, 1), weight, atS: roundedOrNull(mark.atS) }];
  });
  return Object.fromEntries(entries) as { [name in CriterionName]: Criterion };
}

function mean(criteria: { readonly [name in CriterionName]: Criterion }): number | null {
  const measured = NAMES.map((name) => criteria[name]).filter(({ weight }) => weight > 0);
  if (measured.length === 0) return null;
  return measured.reduce((sum, { score, weight }) => sum + (score ?? 0) * weight, 0);
}

function failureOf({ flight, moments, recording }: Attempt): Score['failure'] {
  const { lossS } = moments;
  if (lossS === null) return null;
  return {
    atS: rounded(lossS),
    heightFt: rounded(valueAt(flight.timeS, flight.heightFt, lossS), 1),
    plannedHeightFt: recording.header.drawn.heightFt,
    distanceFt: roundedOrNull(flight.place(lossS)?.alongFt, 0),
    indicatedAirspeedKt: rounded(valueAt(flight.timeS, flight.iasKt, lossS), 1),
  };
}
