// The tables of a plan: height lost by turn, what each thing costs, the trade of the climb speed, the spread, the fields.
import type { ClimbChoice, Sensitivity, Spread } from '@stillprop/physics';
import { cost, downTo10, ft, gain, percent, percentDown, plain, table, thousands, upTo10, wrap } from '../sheet.js';
import type { PlanSheet } from './planAnswer.js';
import { isTurning } from './planFrom.js';
import { isScanStart } from './planWindows.js';

/** As many heights of a spread stand beside each other. */
const HEIGHTS_IN_ROW = 9;
/** More height than this to come round is no turn back; own choice. */
const NO_TURN_FT = 2_000;

export function turnTable({ answer }: PlanSheet): string[] {
  // From a turn the first degrees are flown in the delay: what a smaller heading change costs is then no price of it.
  if (isTurning(answer)) return [];
  const cells = (label: string, values: readonly (string | number)[]) =>
    `  ${label.padEnd(6)}${values.map((value) => String(value).padStart(6)).join('')}`;
  const turns = answer.heightLostByTurn;
  return [
    `HEIGHT LOST in ft, ${answer.from === undefined ? 'failure' : 'this state'} to wings level, delay and push included`,
    cells(
      'turn',
      turns.map(({ turnDeg }) => `${turnDeg}°`),
    ),
    cells(
      'ft',
      turns.map(({ heightLostFt }) => thousands(upTo10(heightLostFt))),
    ),
    '',
  ];
}

export function costTable({ answer }: PlanSheet): string[] {
  const shown = answer.from === undefined ? answer.sensitivity : answer.sensitivity.filter(isOfTheTurn);
  const edgeFt = isScanStart(answer.lowestReturnFt, answer) ? null : answer.lowestReturnFt;
  const cells = (label: string, values: readonly string[]) =>
    `  ${label.padEnd(24)}${values.map((value) => value.padStart(12)).join('')}`;
  return [
    `${'WHAT EACH COSTS (− saves)'.padEnd(26)}${'ft of lowest return'.padStart(24)}${'ft lost to 180°'.padStart(24)}`,
    cells('', ['less of it', 'more of it', 'less of it', 'more of it']),
    ...shown.map(({ quantity, step, unit, less, more }) =>
      cells(`${step}${unit === '°' ? '' : ' '}${unit} of ${quantity}`, [
        lowestCost(less, edgeFt),
        lowestCost(more, edgeFt),
        turnCost(less),
        turnCost(more),
      ]),
    ),
    '',
  ];
}

/** A speed so near the stall that it holds next to no bank comes round some miles later: no figure to plan with. */
function turnCost(change: Sensitivity['less']): string {
  const costFt = change?.heightLostTo180Ft;
  return costFt !== undefined && costFt > NO_TURN_FT ? 'no turn' : cost(costFt);
}

/** "no return": with that change there is none, where there was one. */
function lowestCost(change: Sensitivity['less'], edgeFt: number | null): string {
  if (change === null || edgeFt === null) return '—';
  return change.lowestReturnFt === null ? 'no return' : cost(change.lowestReturnFt);
}

/** From a recorded state the climb is past. */
const isOfTheTurn = ({ quantity }: Sensitivity) => quantity !== 'climb speed';

export function climbTable({ answer }: PlanSheet): string[] {
  const { climbs } = answer;
  const lowest = ({ lowestReturnFt, planned }: ClimbChoice) => {
    if (lowestReturnFt === null) return 'none';
    if (planned && isScanStart(lowestReturnFt, answer)) return `${ft(lowestReturnFt)} or less`;
    return ft(upTo10(lowestReturnFt));
  };
  if (climbs === null || climbs.choices.length < 2) return [];
  return [
    'CLIMB SPEED: what it is worth',
    ...table(
      [
        ['climb at', `out at ${ft(climbs.choices[0]?.heightFt ?? 0)}`, 'lost to 180° there', 'lowest return', ''],
        ...climbs.choices.map((choice) => [
          `${plain(choice.climbKcas)} kt`,
          ft(upTo10(choice.distanceFt)),
          ft(upTo10(choice.heightLostTo180Ft)),
          lowest(choice),
          choice.planned ? '< planned' : '',
        ]),
      ],
      [0, 1, 2, 3],
    ),
    '',
  ];
}

export function spreadTable({ answer: { spread, from } }: PlanSheet): string[] {
  if (spread === null) return [];
  const { heights, draws, seed } = spread;
  const cells = (label: string, values: readonly string[]) =>
    `  ${label.padEnd(16)}${values.map((value) => value.padStart(6)).join('')}`;
  const chunks = Array.from({ length: Math.ceil(heights.length / HEIGHTS_IN_ROW) }, (_, i) =>
    heights.slice(i * HEIGHTS_IN_ROW, (i + 1) * HEIGHTS_IN_ROW),
  );
  return [
    `WITH ORDINARY ERRORS: ${thousands(draws)} drawn pilots and days at each height, seed ${seed}`,
    ...chunks.flatMap((chunk) => [
      cells(
        from === undefined ? 'failure at, ft' : 'state at, ft',
        chunk.map(({ heightFt }) => thousands(heightFt)),
      ),
      cells(
        'ends well, %',
        chunk.map(({ endsWell }) => String(percentDown(endsWell.share))),
      ),
      cells(
        'at least, %',
        chunk.map(({ endsWell }) => String(percentDown(endsWell.low))),
      ),
    ]),
    ...wrap(`  ${shareHeights(spread)}`, 2),
    ...wrap(`  ${errorsDrawn(spread, from === undefined)}`, 2),
    ...wrap(
      '  The drawn pilot may correct the aim (the best of up to 7 counts) and never pulls past the stall margin: a real pilot does worse.',
      2,
    ),
    '',
  ];
}

function shareHeights({ heightFor95, heightFor99 }: Spread): string {
  const least = '"at least" is the low end of the 95 % interval (Wilson)';
  const told = [heightFor95, heightFor99]
    .filter(({ surelyFt }) => surelyFt !== null)
    .map(({ share, surelyFt }) => `${percent(share)} first at ${ft(surelyFt ?? 0)}`);
  return told.length === 0 ? `Sure of 95 % nowhere; ${least}.` : `Sure of ${told.join(', of ')}; ${least}.`;
}

function errorsDrawn({ errors }: Spread, climbs: boolean): string {
  return [
    `One standard deviation: delay ${percent(errors.delayLogSd)}`,
    `bank ${plain(errors.bankSdDeg)}°`,
    `speed ${plain(errors.speedSdKt)} kt`,
    ...(climbs ? [`climb speed ${plain(errors.climbSpeedSdKt)} kt`] : []),
    `wind ${plain(errors.windSdKt)} kt and ${percent(errors.windSdShare)}`,
    `glide ${percent(errors.glideLogSd)}.`,
  ].join(', ');
}

export function fieldLines({ request, answer: { fields, from } }: PlanSheet): string[] {
  if (fields.length === 0) return [];
  const reached = { all: 'within reach', part: 'partly within reach', none: 'out of reach' } as const;
  return [
    `FIELDS from ${ft(from?.start.heightFt ?? request.failure.heightFt)}, wings level by 100 ft`,
    ...fields.flatMap((field) => wrap(`  ${field.name}: ${reached[field.reached]}`, 4)),
    '  Length, surface, slope and wires are yours to judge.',
    '',
  ];
}

/** Behind the page that is pinned up: none of it is to be flown near the ground. */
export function optimisedLines({ answer: { optimised } }: PlanSheet): string[] {
  if (optimised === null) return [];
  const { words } = optimised;
  const saved = optimised.gainFt === null ? 'the one given does not' : `${ft(downTo10(optimised.gainFt))} lower`;
  return [
    '',
    ...wrap(
      `SEARCHED TECHNIQUE, for the simulator: without error it returns from ${ft(upTo10(optimised.lowestReturnFt))} (${saved})`,
      2,
    ),
    ...words.flatMap(({ text, worthFt, teachable, because }) =>
      wrap(
        `  ${sentence(text)}: ${worth(worthFt)}. ${teachable ? 'Can be taught' : 'CAUTION, not near the ground'}: ${because}.`,
        4,
      ),
    ),
    ...(words.length > 1 ? ['  The parts work together: their figures do not add up to the gain.'] : []),
  ];
}

function worth(worthFt: number | null): string {
  if (worthFt === null) return 'without it there is no return';
  return worthFt < 5 ? 'worth nothing here, leave it out' : `without it ${gain(worthFt)} ft more`;
}

const sentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
