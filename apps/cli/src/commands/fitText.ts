// The fit of a glide for a person to read: a table of figures with their uncertainty, and what to mind.
import type { FittedFigure, GlideFit } from '@stillprop/glidefit';
import { table, wrap, written } from '../sheet.js';

const PROPELLERS = { coarse: 'in coarse pitch', stopped: 'stopped', windmillingFine: 'windmilling in fine pitch' };

type FigureName = Exclude<
  { [key in keyof GlideFit]: GlideFit[key] extends FittedFigure ? key : never }[keyof GlideFit],
  undefined
>;

const ROWS: readonly { readonly name: FigureName; readonly label: string; readonly digits: number }[] = [
  { name: 'bestGlideRatio', label: 'Best glide ratio', digits: 2 },
  { name: 'bestGlideKcas', label: 'Best glide (kt CAS)', digits: 1 },
  { name: 'sinkAtBestGlideFpm', label: 'Sink (ft/min)', digits: 0 },
  { name: 'propellerSinkFactor', label: 'Propeller factor', digits: 3 },
  { name: 'dragZeroLift', label: 'CD0', digits: 4 },
  { name: 'inducedFactor', label: 'K', digits: 4 },
];

/** @param aircraftName As the recording has it. */
export function fitText(fit: GlideFit, aircraftName: string): string {
  const spanS = fit.segments.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
  const stretches = fit.segments.length === 1 ? 'one stretch' : `${fit.segments.length} stretches`;
  const cells = ROWS.map(({ name, label, digits }) => row(label, fit[name], digits));
  const { wind } = fit;
  const windWords =
    wind.speedKt < 0.5
      ? 'calm'
      : `${Math.round(wind.speedKt)} kt from ${String(Math.round(wind.fromTrueDeg) % 360).padStart(3, '0')}° at ${Math.round(wind.heightFt).toLocaleString('en-GB')} ft`;
  const sentences = (all: readonly string[]) => all.flatMap((sentence) => wrap(`- ${sentence}`, 2));
  return [
    ...wrap(
      `${aircraftName}: ${spanS.toFixed(0)} s of glide in ${stretches}, ${fit.slowestKcas.toFixed(0)} to ${fit.fastestKcas.toFixed(0)} kt, up to ${fit.largestLoadFactor.toFixed(1)} g, propeller ${PROPELLERS[fit.propeller]}.`,
    ),
    // Before the figures: whoever reads no further than the first of them has read what they rest on.
    ...sentences(fit.cautions),
    ...wrap(`${opening(fit.bestGlideRatio)} "Handbook" is what the aircraft file gives with the propeller so.`),
    '',
    ...table([['', 'fitted', 'std err', '95 % interval', 'handbook', ''], ...cells], [1, 2, 3, 4]),
    '',
    ...wrap(
      "Sink and propeller factor are those at the handbook's best-glide speed. CD0 holds the drag of the dead propeller, K is that of lift.",
    ),
    ...wrap(
      `Misfit ${fit.rmsResidualFt.toFixed(1)} ft rms over ${fit.windows} rows of ${fit.samples.toLocaleString('en-GB')} samples. Wind ${wind.source}: ${windWords}.`,
    ),
    ...sentences(fit.held),
    '',
    ...wrap(
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
  const { value, standardError, interval95, expected, verdict } = figure;
  const shown = (number: number) => written(number, digits);
  const unit = 10 ** -digits;
  const atLeastOne = (number: number) => (number < unit / 2 ? `<${shown(unit)}` : shown(number));
  return [
    label,
    verdict === 'extrapolated' ? '' : shown(value),
    standardError === null ? '' : atLeastOne(standardError),
    interval95 === null ? (verdict === 'held' ? 'held' : '') : `${shown(interval95.low)} to ${shown(interval95.high)}`,
    shown(expected),
    brief(figure),
  ];
}

/** The verdict in so few words that the table keeps to a page: "15 % worse". */
function brief({ verdict, text }: FittedFigure): string {
  if (verdict === 'differs') return text.replace(' than the handbook', '').replace(/^\D+/, '');
  return { agrees: 'agrees', unclear: 'unclear', held: 'not told', extrapolated: 'not flown' }[verdict];
}
