// The tables of a plan as comma-separated values: all of them as one, a figure a row, or one of them as it stands.
import { BadInput } from '../badInput.js';
import { type Cell, csv } from '../csv.js';
import type { PlanAnswer } from './planAnswer.js';

interface Table {
  readonly heading: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

const TABLES: { readonly [name: string]: (answer: PlanAnswer) => Table } = {
  windows: ({ returnWindows }) => ({
    heading: [
      'outcome',
      'fromFt',
      'toFt',
      'fromIsScanEnd',
      'toIsScanEnd',
      'lowestTurn',
      'lowestRunway',
      'lowestAimFt',
      'lowestTurnedDeg',
      'lowestStopMarginFt',
    ],
    rows: returnWindows.map(({ outcome, fromFt, toFt, fromIsScanEnd, toIsScanEnd, lowest }) => [
      outcome,
      fromFt,
      toFt,
      fromIsScanEnd,
      toIsScanEnd,
      lowest.turn,
      lowest.runway,
      lowest.aimFt,
      lowest.turnedDeg,
      lowest.stopMarginFt,
    ]),
  }),
  sides: ({ turns }) => ({
    heading: ['turn', 'isBest', 'lowestReturnFt', 'outcome', 'heightLostTo180Ft', 'turnedDeg', 'stopMarginFt'],
    rows: (['left', 'right'] as const).map((turn) => {
      const { lowestReturnFt, outcome, heightLostTo180Ft, turnedDeg, stopMarginFt } = turns[turn];
      const isBest = !turns.matters || turn === turns.turn;
      return [turn, isBest, lowestReturnFt, outcome, heightLostTo180Ft, turnedDeg, stopMarginFt];
    }),
  }),
  ahead: ({ ahead }) => ({
    heading: ['stopsUpToFt', 'airfieldUpToFt', 'scannedToFt'],
    rows: ahead === null ? [] : [[ahead.stopsUpToFt, ahead.airfieldUpToFt, ahead.scannedToFt]],
  }),
  turns: ({ heightLostByTurn }) => ({
    heading: ['turnDeg', 'heightLostFt', 'timeS'],
    rows: heightLostByTurn.map(({ turnDeg, heightLostFt, timeS }) => [turnDeg, heightLostFt, timeS]),
  }),
  costs: ({ sensitivity }) => ({
    heading: ['quantity', 'step', 'unit', 'heightLostTo180Ft', 'lowestReturnFt'],
    rows: sensitivity.flatMap(({ quantity, step, unit, less, more }) => [
      [quantity, -step, unit, less?.heightLostTo180Ft ?? null, less?.lowestReturnFt ?? null],
      [quantity, step, unit, more?.heightLostTo180Ft ?? null, more?.lowestReturnFt ?? null],
    ]),
  }),
  climbs: ({ climbs }) => ({
    heading: ['climbKcas', 'isPlanned', 'heightFt', 'distanceFt', 'heightLostTo180Ft', 'lowestReturnFt'],
    rows: (climbs?.choices ?? []).map((choice) => [
      choice.climbKcas,
      choice.planned,
      choice.heightFt,
      choice.distanceFt,
      choice.heightLostTo180Ft,
      choice.lowestReturnFt,
    ]),
  }),
  spread: ({ spread }) => ({
    heading: [
      'heightFt',
      'draws',
      'endsWellShare',
      'low95Share',
      'high95Share',
      ...Object.keys(spread?.heights[0]?.outcomes ?? {}),
    ],
    rows: (spread?.heights ?? []).map(({ heightFt, endsWell, outcomes }) => [
      heightFt,
      spread?.draws ?? null,
      endsWell.share,
      endsWell.low,
      endsWell.high,
      ...Object.values(outcomes),
    ]),
  }),
  footprint: ({ footprint }) => ({
    heading: ['alongFt', 'acrossFt'],
    rows: footprint.polygon.map(({ alongFt, acrossFt }) => [alongFt, acrossFt]),
  }),
  fields: ({ fields }) => ({
    heading: ['name', 'reached', 'share', 'marginFt'],
    rows: fields.map(({ name, reached, share, marginFt }) => [name, reached, share, marginFt]),
  }),
};

export const TABLE_NAMES = Object.keys(TABLES);

/** @throws {BadInput} */
export function checkTableName(name: string): string {
  if (!Object.hasOwn(TABLES, name))
    throw new BadInput(`--table must be one of ${TABLE_NAMES.join(', ')}, got "${name}"`);
  return name;
}

/**
 * Without a name: columns `table`, `row` (from 1), `figure` and `value`, so that all tables stand in one well-formed
 * sheet to filter or pivot. With a name: that table with its own heading.
 */
export function planCsv(answer: PlanAnswer, name: string | null = null): string {
  const one = name === null ? undefined : TABLES[name];
  if (one !== undefined) {
    const { heading, rows } = one(answer);
    return csv(heading, rows);
  }
  const figures = Object.entries(TABLES).flatMap(([table, build]) => {
    const { heading, rows } = build(answer);
    return rows.flatMap((row, index) =>
      heading.map((figure, at): Cell[] => [table, index + 1, figure, row[at] ?? null]),
    );
  });
  return csv(['table', 'row', 'figure', 'value'], figures);
}
