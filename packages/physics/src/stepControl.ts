// How long a step of the integrator may be: from the error of the step before it, or by phase where gusts set the pace.
import type { FlightModel } from './flight.js';
import type { Phase } from './pilotProgram.js';

/** Error of a step (m/s) that is aimed at with {@link STEP_S}; chosen so that a touchdown moves by some tenths of a foot. */
const AIMED_MPS = 0.01;
/** A step with an error this many times as large is flown again, shorter. */
const REFUSED_TIMES = 3;
/** Step the error aimed at belongs to: it goes with the fourth power of the step asked for (s). */
export const STEP_S = 0.1;
/** Shortest, first and longest step, in steps asked for; and what no step may exceed, for the lag of the bank (s). */
const LEAST_SHARE = 0.25;
const FIRST_SHARE = 2;
const MOST_SHARE = 6.5;
const LONGEST_S = 0.7;
/** A step is at most this many times shorter or longer than the one before; the estimate is trusted to a tenth. */
const CHANGE_MOST = 2;
const TRUST = 0.9;
/** Steps in gusts, in steps asked for: a gust stays the same all through one, and none is flown twice. */
const GUST_SHARE: { readonly [phase in Phase]: number } = {
  delay: 4,
  turn: 2,
  straight: 4,
  align: 3,
  final: 2,
  flare: 1,
};

/**
 * Step lengths of one flight. The error of a step is told from rates that are worked out anyway
 * ({@link FlightModel.gapMps2}); it grows with the fourth power of the step.
 */
export class StepControl {
  /** Length of the step to come (s). */
  nextS: number;
  private readonly aimedMps: number;

  /** @param stepS Step asked for (s): halved, it leaves a sixteenth of the error. */
  constructor(
    private readonly stepS: number,
    private readonly gusty: boolean,
  ) {
    this.aimedMps = AIMED_MPS * (stepS / STEP_S) ** 4;
    this.nextS = FIRST_SHARE * stepS;
  }

  /** Begins anew: at the failure, and where a phase or the configuration has changed. */
  restart(phase: Phase): void {
    this.nextS = this.stepS * (this.gusty ? GUST_SHARE[phase] : FIRST_SHARE);
  }

  /** Sets the length of the next step; false: the one just flown is to be flown again with it. */
  accepts(tookS: number, model: FlightModel): boolean {
    if (this.gusty) return true;
    const { stepS, aimedMps } = this;
    const errorMps = tookS * model.gapMps2;
    const leastS = stepS * LEAST_SHARE;
    const share = TRUST * Math.sqrt(Math.sqrt(aimedMps / Math.max(errorMps, 1e-12)));
    const wantedS = tookS * Math.min(Math.max(share, 1 / CHANGE_MOST), CHANGE_MOST);
    this.nextS = Math.max(Math.min(wantedS, stepS * MOST_SHARE, LONGEST_S), leastS);
    return errorMps <= REFUSED_TIMES * aimedMps || tookS <= leastS * (1 + 1e-9);
  }
}
