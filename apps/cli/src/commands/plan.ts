// `stillprop plan REQUEST.json`: the planner's questions answered for one departure, or from a recorded moment.
import { climbTrade, type FlyRequest, type Plan, type PlanPart } from '@stillprop/physics';
import { BadInput, numberOption } from '../badInput.js';
import { answeredLater, type Departure, type DepartureOptions, readDeparture } from '../departure.js';
import { planOnAllCores } from '../planOnAllCores.js';
import { warningsOf, warnOnStderr } from '../warnings.js';
import type { PlanAnswer } from './planAnswer.js';
import { checkTableName, planCsv } from './planCsv.js';
import { planText } from './planText.js';

/** Rounds of the search for a better technique; what more of them find is a few feet. */
const OPTIMISE_ROUNDS = 160;
/** Flights at each height: so many know a share near 95 % to about 1.5 %, in a few seconds on two cores. */
const DRAWS = 1000;
const QUIET_MS = 1000;
/** Share of the work done when the plan is, and the climb speeds are left. */
const PLAN_SHARE = 0.9;

export interface PlanCommandOptions extends DepartureOptions {
  readonly json?: boolean;
  readonly csv?: boolean;
  /** The one table to print as comma-separated values. */
  readonly table?: string;
  readonly optimise?: boolean;
  readonly draws?: string;
}

export async function plan(path: string | undefined, options: PlanCommandOptions): Promise<void> {
  if (options.json && options.csv) throw new BadInput('--json and --csv cannot both be asked for');
  if (options.table !== undefined && !options.csv) throw new BadInput('--table needs --csv');
  const tableName = options.table === undefined ? null : checkTableName(options.table);
  const departure = readDeparture(path, options);
  const { questions } = departure;
  const draws =
    options.draws === undefined ? questions.draws : numberOption('--draws', options.draws, 0, 100_000, true);
  const asked = { ...departure, questions: { ...questions, draws } };
  const answer = await answeredLater(() => planAnswer(asked, options.optimise === true));
  if (options.json) process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
  else if (options.csv) {
    warnOnStderr(answer.warnings);
    process.stdout.write(planCsv(answer, tableName));
  } else process.stdout.write(planText(plannedRequest(departure), answer));
}

/** From a recorded state a return is what is asked about, whatever was told to the student. */
function plannedRequest({ request, from }: Pick<Departure, 'request' | 'from'>): FlyRequest {
  const { technique } = request;
  return from !== null && technique.turn === 'ahead'
    ? { ...request, technique: { ...technique, turn: 'best' } }
    : request;
}

/**
 * @param aloneMs Time the spread is counted for before threads are started (ms).
 * @throws {RangeError} As the physics.
 */
export async function planAnswer(
  { request: given, questions, from }: Departure,
  optimise: boolean,
  aloneMs?: number,
): Promise<PlanAnswer> {
  const request = plannedRequest({ request: given, from });
  const onProgress = progressOnStderr();
  const answer: Plan = await planOnAllCores(request, {
    aloneMs,
    start: from?.start,
    fromFt: questions.fromFt,
    toFt: questions.toFt,
    fields: questions.fields,
    spread:
      questions.draws === 0
        ? null
        : {
            draws: questions.draws ?? DRAWS,
            seed: questions.seed,
            ...(questions.spreadHeightsFt && { heightsFt: questions.spreadHeightsFt }),
          },
    optimiseRounds: optimise ? OPTIMISE_ROUNDS : undefined,
    onProgress: (part, share) => onProgress(part, PLAN_SHARE * share),
  });
  const { lowestReturnFt } = answer;
  const climbs =
    from === null && request.technique.turn !== 'ahead'
      ? climbTrade(request, {
          lowestReturnFt,
          onProgress: (share) => onProgress('climb speeds', PLAN_SHARE + (1 - PLAN_SHARE) * share),
        })
      : null;
  return {
    ...answer,
    climbs,
    warnings: warningsOf(request),
    ...(request !== given && { plannedAsReturn: true as const }),
    ...(from && { from }),
  };
}

/** Says on stderr what is being worked on, at most once a second and not in the first. */
function progressOnStderr(): (part: PlanPart | 'climb speeds', share: number) => void {
  let toldAt = Date.now();
  return (part, share) => {
    if (Date.now() - toldAt < QUIET_MS) return;
    toldAt = Date.now();
    console.error(`${Math.floor(share * 100 + 1e-9)} %: ${part} …`);
  };
}
