// The tables of a plan as comma-separated values: one table after the other, each with its own heading row.
import type { Plan } from '@stillprop/physics';

type Cell = string | number | boolean | null;

/** RFC 4180; numbers rounded to a tenth, an empty cell for what there is not. */
export function planCsv(plan: Plan): string {
  const tables: Cell[][][] = [
    [
      [
        'window',
        'fromFt',
        'toFt',
        'fromIsScanEnd',
        'toIsScanEnd',
        'lowestAimFt',
        'lowestTurnedDeg',
        'lowestStopMarginFt',
      ],
      ...plan.returnWindows.map((window) => [
        window.outcome,
        window.fromFt,
        window.toFt,
        window.fromIsScanEnd,
        window.toIsScanEnd,
        window.lowest.aimFt,
        window.lowest.turnedDeg,
        window.lowest.stopMarginFt,
      ]),
    ],
    [['turnDeg', 'heightLostFt'], ...plan.heightLostByTurn.map(({ turnDeg, heightLostFt }) => [turnDeg, heightLostFt])],
    [
      ['quantity', 'step', 'unit', 'heightLostTo180Ft', 'lowestReturnFt'],
      ...plan.sensitivity.flatMap(({ quantity, step, unit, less, more }) => [
        [quantity, -step, unit, less?.heightLostTo180Ft ?? null, less?.lowestReturnFt ?? null],
        [quantity, step, unit, more?.heightLostTo180Ft ?? null, more?.lowestReturnFt ?? null],
      ]),
    ],
    ...(plan.spread === null
      ? []
      : [
          [
            ['heightFt', 'endsWellShare', 'low95', 'high95', ...Object.keys(plan.spread.heights[0]?.outcomes ?? {})],
            ...plan.spread.heights.map(({ heightFt, endsWell, outcomes }) => [
              heightFt,
              endsWell.share,
              endsWell.low,
              endsWell.high,
              ...Object.values(outcomes),
            ]),
          ] as Cell[][],
        ]),
    [
      ['footprintAlongFt', 'footprintAcrossFt'],
      ...plan.footprint.polygon.map(({ alongFt, acrossFt }) => [alongFt, acrossFt]),
    ],
  ];
  return `${tables.map((rows) => rows.map((row) => row.map(cell).join(',')).join('\r\n')).join('\r\n\r\n')}\r\n`;
}

function cell(value: Cell): string {
  if (value === null) return '';
  if (typeof value === 'number')
    return String(Math.abs(value) < 2 ? Math.round(value * 1e4) / 1e4 : Math.round(value * 10) / 10);
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
