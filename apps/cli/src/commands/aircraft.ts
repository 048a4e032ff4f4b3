// `stillprop aircraft FILE`: what is derived from an aeroplane's handbook numbers, and which of them are doubtful.
import { Aircraft, PlanRequest, parse, parseJson } from '@stillprop/contracts';
import { type AircraftFigure, type AircraftNumbers, type AircraftReport, aircraftReport } from '@stillprop/physics';
import { z } from 'zod';
import { accept, readInput } from '../badInput.js';
import { answered } from '../departure.js';
import { plain, table, wrap, written } from '../sheet.js';
import { warningLines } from '../warnings.js';

export function aircraft(path: string, options: { json?: boolean }): void {
  const whole = path === '-' ? 'the input' : path;
  const numbers = aircraftOf(accept(parseJson(z.unknown(), readInput(path), whole)), whole);
  const report = answered(() => aircraftReport(numbers));
  process.stdout.write(
    options.json
      ? `${JSON.stringify({ aircraft: numbers.name, ...report }, null, 2)}\n`
      : aircraftText(numbers, report),
  );
}

/** The aeroplane of an aircraft file, or of a request. @throws {BadInput} */
export function aircraftOf(data: unknown, whole: string): AircraftNumbers {
  return typeof data === 'object' && data !== null && 'aircraft' in data
    ? accept(parse(PlanRequest, data, whole)).aircraft
    : accept(parse(Aircraft, data, whole));
}

/** The same answer for a person to read. */
export function aircraftText({ name, massKg }: AircraftNumbers, { figures, warnings }: AircraftReport): string {
  return [
    ...wrap(`${name}, ${plain(massKg)} kg: what is derived from its handbook numbers.`),
    ...wrap('Speeds calibrated, at this mass; sinks and angles at sea level on a standard day, gear and flap up.'),
    '',
    ...warningLines(warnings),
    ...sources(figures).flatMap(({ from, figures: rows }) => [
      ...wrap(`From ${from}:`, 2),
      ...table(
        rows.map((figure) => [
          figure.name.padEnd(44),
          `${digits(figure)}${figure.unit === '°' ? '°' : ` ${figure.unit}`}`.trim(),
        ]),
      ),
      '',
    ]),
    ...wrap(
      'Climb angle over glide angle, rounded down (still air, propeller as in the handbook glide): at 1 or below, each foot climbed leads farther away than it can glide back.',
    ),
    ...wrap(
      warnings.length === 0
        ? 'No number contradicts another. That is no proof: numbers may agree and still be wrong. The handbook comes first.'
        : 'Nothing was mended: correct the file from the handbook. The handbook comes first.',
    ),
    '',
  ].join('\n');
}

/** Figures that came from the same numbers, together, in the order in which they first appear. */
function sources(figures: readonly AircraftFigure[]): { from: string; figures: AircraftFigure[] }[] {
  const groups = new Map<string, AircraftFigure[]>();
  for (const figure of figures) {
    const from = figure.from.join(', ');
    groups.set(from, [...(groups.get(from) ?? []), figure]);
  }
  return [...groups].map(([from, together]) => ({ from, figures: together }));
}

function digits({ value, unit, key }: AircraftFigure): string {
  if (unit === 'N' || unit === 'ft/min') return written(value);
  if (unit !== '') return written(value, 1);
  if (key.startsWith('climbToGlide')) return written(Math.floor(value * 100 + 1e-9) / 100, 2);
  return written(value, /^(drag|induced)/.test(key) ? 4 : 2);
}
