// A score's moments told by the clock of the recording, pauses and all, so that they meet the samples that charts draw.
import type { Criterion, CriterionName, Score } from '@stillprop/contracts';
import { rounded } from './words.js';

/** The score with every time put through `toRecorded`; durations in its sentences stay those that were flown. */
export function inRecordedTime(score: Score, toRecorded: (flownS: number) => number): Score {
  const at = (flownS: number) => rounded(toRecorded(flownS));
  const moved = <Timed extends { readonly atS: number | null }>(timed: Timed): Timed =>
    timed.atS === null ? timed : { ...timed, atS: at(timed.atS) };
  const spanned = <Spanned extends { readonly fromS: number; readonly toS: number }>(span: Spanned): Spanned => ({
    ...span,
    fromS: at(span.fromS),
    toS: at(span.toS),
  });
  const criteria = Object.fromEntries(
    Object.entries(score.criteria).map(([name, criterion]): [string, Criterion] => [name, moved(criterion)]),
  ) as { [name in CriterionName]: Criterion };
  return {
    ...score,
    criteria,
    findings: score.findings.map(moved),
    ledger: score.ledger === null ? null : { ...score.ledger, rows: score.ledger.rows.map(spanned) },
    events: score.events.map(moved),
    phases: score.phases.map(spanned),
    failure: score.failure === null ? null : moved(score.failure),
  };
}
