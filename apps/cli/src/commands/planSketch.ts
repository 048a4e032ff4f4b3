// The heights of a plan drawn in plain text: a bar for what stops on the runway, one for what reaches the airfield.
import { isIsland, type ReturnWindow } from '@stillprop/physics';
import { thousands, wrap } from '../sheet.js';
import { countedOn } from './countedOn.js';
import type { PlanSheet } from './planAnswer.js';
import { ISLAND_WORDS, windowWords } from './planWindows.js';

const LABEL_COLUMNS = 24;
const BAR_COLUMNS = 54;
/** Room a height on the scale needs. */
const TICK_COLUMNS = 9;
/** With less of the runway left than this share the next higher flight runs out of it, and does not fall short. */
const TOO_LONG_SHARE = 0.25;
const TICK_STEPS_FT = [50, 100, 200, 500, 1_000, 2_000, 5_000];

const ROWS: readonly (readonly [ReturnWindow['outcome'], string])[] = [
  ['stopped-on-runway', 'stops on the runway'],
  ['on-airfield', 'reaches the airfield'],
];

export function sketchLines(sheet: PlanSheet): string[] {
  const { answer } = sheet;
  const { returnWindows, scan, from } = answer;
  if (returnWindows.length === 0) return []; // the decision has said so
  const column = (heightFt: number) =>
    Math.round(((heightFt - scan.fromFt) / (scan.toFt - scan.fromFt)) * (BAR_COLUMNS - 1));
  const bar = (windows: readonly { fromFt: number; toFt: number }[], mark: string, base: string[]) =>
    base.map((was, at) =>
      windows.some(({ fromFt, toFt }) => at >= column(fromFt) && at <= column(toFt)) ? mark : was,
    );
  const empty = Array.from({ length: BAR_COLUMNS }, () => '.');
  const counted = countedOn(answer);
  const rows = ROWS.map(([outcome, name]) => {
    const windows = returnWindows.filter((window) => window.outcome === outcome);
    const drawn = bar(windows, '=', empty);
    const marked = outcome === 'stopped-on-runway' && counted !== null ? bar([counted], '#', drawn) : drawn;
    return { name, windows, text: `  ${name}`.padEnd(LABEL_COLUMNS) + marked.join('') };
  });
  return [
    `RETURN WINDOWS by ${from === undefined ? 'failure height' : 'height of this state'} in ft (= without error${counted === null ? '' : ', # 95 times in 100'})`,
    scale(scan.fromFt, scan.toFt, column),
    ...rows.map(({ text }) => text),
    ...rows.flatMap(({ name, windows }) =>
      wrap(`  ${name}: ${windows.map(windowTold).join('; ') || 'from no height'}`, 4),
    ),
    ...(returnWindows.length === 0
      ? []
      : wrap(`  At the edges it is just made, nothing in hand.${topWords(sheet)}`, 2)),
    '',
  ];
}

function windowTold(window: ReturnWindow): string {
  const isLuck = window.outcome === 'stopped-on-runway' && isIsland(window);
  return `${windowWords(window)}${isLuck ? ` (${ISLAND_WORDS})` : ''}`;
}

/** Why a window closes upwards where it does for too much height: there is more to be done about that than is computed. */
function topWords({ request: { runway }, answer: { returnWindows } }: PlanSheet): string {
  const tooHigh = returnWindows.some(
    ({ outcome, toIsScanEnd, highest: { stopMarginFt } }) =>
      outcome === 'stopped-on-runway' &&
      !toIsScanEnd &&
      stopMarginFt !== null &&
      stopMarginFt < TOO_LONG_SHARE * runway.lengthFt,
  );
  return tooHigh ? ' Above the top it comes back too high to stop: circling to lose height is not computed.' : '';
}

function scale(fromFt: number, toFt: number, column: (heightFt: number) => number): string {
  const perColumn = (toFt - fromFt) / (BAR_COLUMNS - 1);
  const stepFt = TICK_STEPS_FT.find((step) => step / perColumn >= TICK_COLUMNS) ?? 5_000;
  let line = '';
  for (let tick = Math.ceil(fromFt / stepFt) * stepFt; tick <= toFt; tick += stepFt) {
    const label = `|${thousands(tick)}`;
    if (column(tick) + label.length <= BAR_COLUMNS + 2) line = line.padEnd(column(tick)) + label;
  }
  return ' '.repeat(LABEL_COLUMNS) + line;
}
