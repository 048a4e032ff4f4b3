// `stillprop plan REQUEST.json`: the planner's questions answered for one departure.
import { PlanRequest } from '@stillprop/contracts';
import type { Plan, PlanPart } from '@stillprop/physics';
import { BadInput, numberOption, readJsonInput } from '../badInput.js';
import { planOnAllCores } from '../planOnAllCores.js';
import { planCsv } from './planCsv.js';
import { planText } from './planText.js';

/** Rounds of the search for a better technique; what more of them find is a few feet. */
const OPTIMISE_ROUNDS = 160;
const QUIET_MS = 1000;

export interface PlanCommandOptions {
  readonly json?: boolean;
  readonly csv?: boolean;
  readonly optimise?: boolean;
  readonly draws?: string;
}

export async function plan(path: string, options: PlanCommandOptions): Promise<void> {
  if (options.json && options.csv) throw new BadInput('--json and --csv cannot both be asked for');
  const { plan: questions = {}, ...request } = readJsonInput(PlanRequest, path);
  const draws =
    options.draws === undefined ? questions.draws : numberOption('--draws', options.draws, 0, 100_000, true);
  let answer: Plan;
  try {
    answer = await planOnAllCores(request, {
      fromFt: questions.fromFt,
      toFt: questions.toFt,
      fields: questions.fields,
      spread:
        draws === 0
          ? null
          : {
              draws,
              seed: questions.seed,
              ...(questions.spreadHeightsFt && { heightsFt: questions.spreadHeightsFt }),
            },
      optimiseRounds: options.optimise ? OPTIMISE_ROUNDS : undefined,
      onProgress: progressOnStderr(),
    });
  } catch (error) {
    if (error instanceof RangeError) throw new BadInput(error.message);
    throw error;
  }
  if (options.json) process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
  else process.stdout.write(options.csv ? planCsv(answer) : planText(request, answer));
}

/** Says on stderr what is being worked on, at most once a second and not in the first. */
function progressOnStderr(): (part: PlanPart, share: number) => void {
  let toldAt = Date.now();
  return (part, share) => {
    if (Date.now() - toldAt < QUIET_MS) return;
    toldAt = Date.now();
    console.error(`${Math.round(share * 100)} %: ${part} …`);
  };
}
