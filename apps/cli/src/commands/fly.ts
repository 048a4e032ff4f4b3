// `stillprop fly REQUEST.json`: one modelled attempt, from a modelled climb or from a recorded moment.
import { flyAttempt } from '@stillprop/physics';
import { BadInput, numberOption } from '../badInput.js';
import { answered, type DepartureOptions, readDeparture } from '../departure.js';
import { warningsOf, warnOnStderr } from '../warnings.js';
import { flyCsv } from './flyCsv.js';
import { flyText } from './flyText.js';

export interface FlyCommandOptions extends DepartureOptions {
  readonly json?: boolean;
  readonly csv?: boolean;
  /** Seconds between rows of the track. */
  readonly every?: string;
}

export function fly(path: string | undefined, options: FlyCommandOptions): void {
  if (options.json && options.csv) throw new BadInput('--json and --csv cannot both be asked for');
  if (options.every !== undefined && !options.csv) throw new BadInput('--every needs --csv');
  const everyS = numberOption('--every', options.every ?? '0.5', 0.02, 10);
  const { request, from } = readDeparture(path, options);
  const start = from?.start;
  if (options.csv) {
    const { track } = answered(() => flyAttempt(request, { start, trackEveryS: everyS }));
    warnOnStderr(warningsOf(request));
    process.stdout.write(flyCsv(track));
    return;
  }
  const result = answered(() => flyAttempt(request, { start }));
  const warnings = warningsOf(request);
  if (options.json) {
    process.stdout.write(`${JSON.stringify({ ...result, warnings, ...(from && { from }) }, null, 2)}\n`);
  } else process.stdout.write(flyText(request, result, warnings, from));
}
