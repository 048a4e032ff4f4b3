// The fit of a glide for a person to read: a table of figures with their uncertainty, and what to mind.
import type { FittedFigure, GlideFit } from '@stillprop/glidefit';

const WIDTH = 100;
const PROPELLERS = { coarse: 'in coarse pitch', stopped: 'stopped', windmillingFine: 'windmilling in fine pitch' };

type FigureName = Exclude<
  { [key in keyof GlideFit]: GlideFit[key] extends FittedFigure ? key : never }[keyof GlideFit],
  undefined
>;

const ROWS: readonly { readonly name: FigureName; readonly label: string; readonly digits: number }[] = [
  { name: 'bestGlideRatio', label: 'Best glide ratio', digits: 2 },
  { name: 'bestGlideKcas', label: 'Best glide speed (kt CAS)', digits: 1 },
  { name: 'sinkAtBestGlideFpm', label: 'Sink at handbook best glide (ft/min)', digits: 0 },
  { name: 'propellerSinkFactor', label: 'Propeller sink factor', digits: 3 },
  { name: 'dragZeroLift', label: 'CD0, dead propeller included', digits: 4 },
  { name: 'inducedFactor', label: 'K (induced drag)', digits: 4 },
];

/** @param aircraftName As the recording has it. */
export function fitText(fit: GlideFit, aircraftName: string): string {
  const spanS = fit.segments.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
  const stretches = fit.segments.length === 1 ? 'one stretch' : `${fit.segments.length} stretches`;
  const cells = ROWS.map(({ name, label, digits }) => row(label, fit[name], digits));
  const table = [['', 'fitted', 'std error', '95 % interval', 'handbook', ''], ...cells];
  const widths = [0, 1, 2, 3, 4].map((at) => Math.max(...table.map((line) => line[at]?.length ?? 0)));
  const lines = table.map((line) =>
    line
      .map((cell, at) => (at === 0 || at === 5 ? cell.padEnd(widths[at] ?? 0) : cell.padStart(widths[at] ?? 0)))
      .join('  ')
      .trimEnd(),
  );
  const { wind } = fit;
  const windWords =
    wind.speedKt < 0.5
      ? 'calm'
      : `${Math.round(wind.speedKt)} kt from ${String(Math.round(wind.fromTrueDeg) % 360).padStart(3, '0')}° at ${Math.round(wind.heightFt).toLocaleString('en-GB')} ft`;
  return [
    ...wrapped(
      `${aircraftName}: ${spanS.toFixed(0)} s of glide in ${stretches}, ${fit.slowestKcas.toFixed(0)} to ${fit.fastestKcas.toFixed(0)} kt, up to ${fit.largestLoadFactor.toFixed(1)} g, propeller ${PROPELLERS[fit.propeller]}.`,
    ),
    ...wrapped(`${opening(fit.bestGlideRatio)} "Handbook" is what the aircraft file gives with the propeller so.`),
    '',
    ...lines.map((line) => `  ${line}`),
    '',
    ...wrapped(
      `Misfit ${fit.rmsResidualFt.toFixed(1)} ft rms over ${fit.windows} rows of ${fit.samples.toLocaleString('en-GB')} samples. Wind ${wind.source}: ${windWords}.`,
    ),
    ...[...fit.held, ...fit.cautions].flatMap((sentence) => wrapped(`- ${sentence}`, '  ')),
    '',
    ...wrapped(
      "This tells of the simulator's aeroplane in this recording, not of a real one. The aircraft handbook, local rules and a qualified instructor come first.",
    ),
    '',
  ].join('\n');
}

function opening({ verdict, text }: FittedFigure): string {
  if (verdict === 'unclear') return `Its glide is ${text}.`;
  return verdict === 'agrees' ? `Its glide ${text}.` : `It ${text}.`;
}

function row(label: string, figure: FittedFigure, digits: number): string[] {
  const { value, standardError, interval95, expected } = figure;
  const shown = (number: number) =>
    digits === 0 ? Math.round(number).toLocaleString('en-GB') : number.toFixed(digits);
  const unit = 10 ** -digits;
  const atLeastOne = (number: number) => (number < unit / 2 ? `<${shown(unit)}` : shown(number));
  return [
    label,
    shown(value),
    standardError === null ? '' : atLeastOne(standardError),
    interval95 === null ? 'held' : `${shown(interval95.low)} to ${shown(interval95.high)}`,
    shown(expected),
    brief(figure),
  ];
}

/** The verdict in so few words that the table keeps to a page. */
function brief({ verdict, text }: FittedFigure): string {
  if (verdict === 'differs') return text.replace(' than the handbook', '');
  return { agrees: 'agrees', unclear: 'too uncertain to tell', held: 'not told by this glide' }[verdict];
}

function wrapped(text: string, indent = ''): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const next = line === '' ? word : `${line} ${word}`;
    if (next.length <= WIDTH || line === '') line = next;
    else {
      lines.push(line);
      line = indent + word;
    }
  }
  return [...lines, line];
}
