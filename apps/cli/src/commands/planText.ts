// A plan as a pilot reads it: the decision first, then the tables behind it, then what was left out.
import type { FlyRequest } from '@stillprop/contracts';
import type { Plan, ReturnWindow, Sensitivity } from '@stillprop/physics';

const ft = (value: number) => `${Math.round(value).toLocaleString('en-GB')} ft`;
const ftOr = (value: number | null, none: string) => (value === null ? none : ft(value));
const signedFt = (value: number | null) =>
  value === null ? '—' : `${value < 0 ? '−' : '+'}${Math.round(Math.abs(value)).toLocaleString('en-GB')} ft`;
const percent = (share: number) => `${Math.round(share * 100)} %`;

export function planText(request: FlyRequest, plan: Plan): string {
  const { aircraft, runway, technique } = request;
  return [
    `${aircraft.name}, runway ${runway.name}, ${ft(runway.lengthFt)}. ${technique.delayS} s delay, ${technique.bankDeg}° bank, ${technique.targetKcas} kt, climb at ${technique.climbKcas} kt.`,
    '',
    ...decision(plan),
    '',
    'Return windows (failure heights above the runway from which this technique works, by the model):',
    ...windowsSketch(plan),
    '',
    'Height lost, failure to wings level, delay and push included:',
    table(plan.heightLostByTurn.map(({ turnDeg, heightLostFt }) => [`${turnDeg}°`, ft(heightLostFt)])),
    '',
    'What each costs (height lost to 180°, lowest return):',
    table(plan.sensitivity.flatMap(sensitivityRows)),
    '',
    ...spreadLines(plan),
    ...fieldLines(plan),
    ...optimisedLines(plan),
    'Left out: gusts beyond the spread, obstacles, traffic, brake failure, and what fear does to a pilot. A computed height is',
    'no licence to try it low in an aeroplane: the handbook, local rules and a qualified instructor come first.',
    '',
  ].join('\n');
}

function decision({ lowestReturnFt, returnWindows, turns, bestTurn, spread }: Plan): string[] {
  if (lowestReturnFt === null) {
    return ['No return to the runway was found at any height scanned: plan to land ahead.'];
  }
  const side = turns.matters ? `to the ${bestTurn}` : 'to either side';
  const heights = returnWindows
    .filter(({ outcome }) => outcome === 'stopped-on-runway')
    .map(({ fromFt, toFt, toIsScanEnd }) =>
      toIsScanEnd ? `from ${ft(fromFt)} up` : `from ${ft(fromFt)} to ${ft(toFt)}`,
    );
  return [
    `Below ${ft(lowestReturnFt)}: land ahead.`,
    `Flown without error, a return ${side} stops on the runway ${heights.join(' and ')}.`,
    ...(turns.matters && turns.wrongTurn.lowestReturnFt !== null
      ? [`Turning the other way needs ${signedFt(turns.wrongTurn.lowestReturnFt)} of height.`]
      : []),
    ...(spread === null ? [] : [withErrors(spread.heightFor95.heightFt)]),
  ];
}

function withErrors(heightFt: number | null): string {
  return heightFt === null
    ? 'With the ordinary errors of a pilot it does not end well 95 times in 100 at any height tried: do not count on it.'
    : `With the ordinary errors of a pilot it ends well 95 times in 100 from ${ft(heightFt)}, not lower: plan with that height.`;
}

const OUTCOMES: Record<ReturnWindow['outcome'], string> = {
  'stopped-on-runway': 'stops on the runway',
  'on-airfield': 'reaches the airfield',
};

/** Each interval with a bar over the heights scanned. */
function windowsSketch({ returnWindows, scan }: Plan): string[] {
  if (returnWindows.length === 0) return ['  none'];
  const columns = 40;
  const column = (heightFt: number) =>
    Math.round(((heightFt - scan.fromFt) / (scan.toFt - scan.fromFt)) * (columns - 1));
  const rows = returnWindows.map(({ outcome, fromFt, toFt, toIsScanEnd, fromIsScanEnd }) => {
    const [from, to] = [column(fromFt), column(toFt)];
    const bar = Array.from({ length: columns }, (_, at) => (at >= from && at <= to ? '=' : '.')).join('');
    const ends = `${fromIsScanEnd ? 'below ' : ''}${ft(fromFt)} to ${ft(toFt)}${toIsScanEnd ? ' and above' : ''}`;
    return [OUTCOMES[outcome], bar, ends];
  });
  return [
    table(rows),
    `  (scanned from ${ft(scan.fromFt)} to ${ft(scan.toFt)} every ${ft(scan.stepFt)}, edges to 1 ft, ${scan.flights.toLocaleString('en-GB')} flights)`,
  ];
}

function sensitivityRows({ quantity, step, unit, less, more }: Sensitivity): string[][] {
  const row = (word: string, cost: Sensitivity['less']) => [
    `${step}${unit === '°' ? '' : ' '}${unit} ${word} ${quantity}`,
    cost === null ? 'cannot be flown' : signedFt(cost.heightLostTo180Ft),
    cost === null ? '' : signedFt(cost.lowestReturnFt),
  ];
  return [row('less', less), row('more', more)];
}

function spreadLines({ spread }: Plan): string[] {
  if (spread === null) return [];
  return [
    `Share that ends well, ${spread.draws.toLocaleString('en-GB')} flights at each height with drawn errors (seed ${spread.seed}; range: 95 % confidence, Wilson):`,
    table(
      spread.heights.map(({ heightFt, endsWell }) => [
        ft(heightFt),
        percent(endsWell.share),
        `${percent(endsWell.low)} to ${percent(endsWell.high)}`,
      ]),
    ),
    '',
  ];
}

function fieldLines({ fields }: Plan): string[] {
  if (fields.length === 0) return [];
  return [
    'Fields within reach, wings level, from the failure height asked:',
    table(fields.map(({ name, reached }) => [name, reached])),
    '',
  ];
}

function optimisedLines({ optimised }: Plan): string[] {
  if (optimised === null) return [];
  return [
    `A better technique returns from ${ft(optimised.lowestReturnFt)} (${ftOr(optimised.gainFt, 'the one given does not')} lower):`,
    ...optimised.words.map(
      ({ text, worthFt, teachable, because }) =>
        `  ${text}: ${signedFt(worthFt)}. ${teachable ? 'Can be taught' : 'CAUTION, not near the ground'}: ${because}`,
    ),
    '',
  ];
}

/** Columns side by side, two spaces in. */
function table(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<number[]>((most, row) => row.map((cell, at) => Math.max(most[at] ?? 0, cell.length)), []);
  return rows
    .map((row) => `  ${row.map((cell, at) => cell.padEnd((widths[at] ?? 0) + 2)).join('')}`.trimEnd())
    .join('\n');
}
