// `stillprop fit RECORDING`: how the aeroplane of a recording glided, beside its handbook.
import { fitGlide, type GlideFit } from '@stillprop/glidefit';
import { BadInput, numberOption } from '../badInput.js';
import { readRecordingInput } from '../recordingInput.js';
import { fitText } from './fitText.js';
import { inCommandWords } from './fitWords.js';

/** Seconds a simulator may count to, as samples have them. */
const LATEST_S = 1e9;

interface FitCommandOptions {
  readonly from?: string;
  readonly to?: string;
  readonly wind: string;
  readonly json?: boolean;
}

export function fit(path: string, { from, to, wind, json }: FitCommandOptions): void {
  if (wind !== 'known' && wind !== 'estimated')
    throw new BadInput(`--wind must be known or estimated, got ${JSON.stringify(wind)}`);
  const fromS = from === undefined ? undefined : numberOption('--from', from, 0, LATEST_S);
  const toS = to === undefined ? undefined : numberOption('--to', to, 0, LATEST_S);
  const recording = readRecordingInput(path);
  const fitted = fitGlide(recording, { fromS, toS, wind });
  if (!fitted.ok) throw new BadInput(`${path === '-' ? 'the input' : path}: ${inCommandWords(fitted.problem.message)}`);
  const said: GlideFit = { ...fitted.value, cautions: fitted.value.cautions.map(inCommandWords) };
  process.stdout.write(json ? `${JSON.stringify(said, null, 2)}\n` : fitText(said, recording.header.aircraft.name));
}
