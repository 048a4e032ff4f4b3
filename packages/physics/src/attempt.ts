// Flies one pilot's programme from the failure to the contact and measures it on the way.
import type { FlightModel } from './flight.js';
import { FlightMeasures } from './flightMeasures.js';
import type { PilotProgram } from './pilotProgram.js';
import { PowerSchedule } from './powerSchedule.js';
import { H, STATE_SIZE } from './state.js';
import { STEP_S, StepControl } from './stepControl.js';
import { addTrackRow, type FlownTrack } from './track.js';
import type { Turbulence } from './turbulence.js';
import { M_PER_FT } from './units.js';

export { STEP_S };

/** Step of the search for an aim (s); half of its touchdowns lie within half a foot of the exact ones, all within some feet. */
export const SEARCH_STEP_S = 0.15;
/** A running engine is closed after this time, whatever else: every flight comes down (s). */
const POWER_LIMIT_S = 300;
const TIME_LIMIT_S = 3_600;
/** Changes at one instant, and rounds to find an instant inside a step. */
const CHANGE_LIMIT = 8;
const ROUNDS = 14;
/** An event this far past is on time (m, m/s or rad). */
const EVENT_TOLERANCE = 1e-7;

/** What was measured between failure and contact; SI, radians. */
export interface Flown {
  readonly contact: Float64Array;
  readonly peakM: number;
  readonly tasAfterDelayMps: number;
  readonly heightAt180M: number | null;
  readonly largestSinkMps: number;
  readonly leastStallMargin: number;
  readonly turnedRad: number;
  readonly wingsLevelM: number;
  readonly stalled: boolean;
  readonly timeS: number;
}

/** Where rows of the path go, and how often. */
export interface Recorder {
  readonly track: FlownTrack;
  readonly everyS: number;
  readonly runwayHeadingDeg: number;
}

/** Instants that are found inside the step, never after it. */
const EVENTS = ['contact', 'phase', 'gear', 'flap', 'throttle'] as const;
type Event = (typeof EVENTS)[number];

/** One flight; make a new one for each. The model holds the configuration of the failure moment and is changed. */
export class Attempt {
  private readonly state: Float64Array;
  private readonly before = new Float64Array(STATE_SIZE);
  private readonly rowState = new Float64Array(STATE_SIZE);
  private readonly values = new Float64Array(EVENTS.length);
  private readonly law: (model: FlightModel, state: Float64Array) => void;
  private throttleClosed = false;
  private timeS = 0;
  private readonly measures: FlightMeasures;
  private rows = 0;

  constructor(
    private readonly model: FlightModel,
    private readonly program: PilotProgram,
    start: Float64Array,
    private readonly recorder: Recorder | null = null,
    private readonly power = new PowerSchedule({}),
    private readonly gusts: Turbulence | null = null,
  ) {
    this.state = Float64Array.from(start);
    this.law = (m, s) => program.apply(m, s);
    model.rollRateLimitRadS = program.technique.rollRateRadS;
    model.slipDrag = 0;
    model.observe(this.state);
    this.measures = new FlightMeasures(model, this.state);
  }

  /** Flies to the ground, with the accuracy that belongs to a step of `stepS` (s). */
  fly(stepS: number): Flown {
    const { model, program, state, measures } = this;
    const delayS = program.technique.delayS;
    if (delayS <= 0) this.endDelay();
    this.addRow(state);
    const steps = new StepControl(stepS, this.gusts !== null);
    steps.restart(program.phase);
    this.begin();
    while (this.timeS < TIME_LIMIT_S) {
      const delayLeftS = delayS - this.timeS;
      const changeInS = this.power.nextAtS - this.timeS;
      const endsDelay = program.phase === 'delay' && delayLeftS <= Math.min(steps.nextS, changeInS) + 1e-9;
      const dtS = Math.min(endsDelay ? delayLeftS : steps.nextS, changeInS);
      if (this.gusts !== null) {
        this.gust(this.gusts, dtS);
        model.begin(state, this.law);
      }
      measures.begin();
      const share = this.stepToEvent(dtS);
      model.begin(state, this.law);
      if (share === 1 && !steps.accepts(dtS, model)) {
        state.set(this.before);
        this.begin();
        continue;
      }
      this.recordUpTo(dtS * share);
      this.timeS += dtS * share;
      measures.take(this.before, state, dtS * share, program.phase);
      if (program.heightM(state) <= 0) break;
      const powerChanged = this.changePower();
      const delayDone = endsDelay && share === 1;
      if (delayDone) this.endDelay();
      else if (share < 1) this.applyChanges();
      if (!powerChanged && !delayDone && share === 1) continue;
      steps.restart(program.phase);
      this.begin();
    }
    if (program.heightM(state) > 0)
      throw new RangeError(
        `failure must bring the aeroplane down within ${TIME_LIMIT_S} s, but it is still ${Math.round(program.heightM(state) / M_PER_FT)} ft up`,
      );
    const last = this.recorder?.track.timeS.at(-1);
    if (last !== undefined && last < this.timeS - 1e-6) this.addRow(state);
    return {
      contact: state,
      peakM: measures.peakM,
      tasAfterDelayMps: measures.tasAfterDelayMps,
      heightAt180M: measures.heightAt180M,
      largestSinkMps: measures.largestSinkMps,
      leastStallMargin: measures.leastStallMargin,
      turnedRad: program.aim === null ? 0 : Math.abs(measures.turnedAtRollOutRad ?? measures.turnedRad),
      wingsLevelM: measures.wingsLevelM,
      stalled: measures.stalled,
      timeS: this.timeS,
    };
  }

  /** Works out what a step from the present state begins with. */
  private begin(): void {
    this.model.begin(this.state, this.law);
    for (let i = 0; i < EVENTS.length; i++) this.values[i] = this.value(EVENTS[i] as Event);
  }

  /** A step that was begun, or less of it up to the first event inside; returns the share flown. */
  private stepToEvent(dtS: number): number {
    const { model, state, before, values } = this;
    before.set(state);
    model.finish(state, dtS, this.law);
    let share = 1;
    for (let i = 0; i < EVENTS.length; i++) {
      const old = values[i] as number;
      const now = this.value(EVENTS[i] as Event);
      if (old < 0 && now >= 0) share = this.locate(EVENTS[i] as Event, old, share, dtS);
      else values[i] = now;
    }
    return share;
  }

  /** Share of the step at which an event happens (regula falsi, Illinois); leaves the state there, on its far side. */
  private locate(event: Event, old: number, upTo: number, dtS: number): number {
    const { model, state, before } = this;
    let low = 0;
    let lowValue = old;
    let high = upTo;
    let highValue = this.value(event);
    let side = 0;
    for (let i = 0; i < ROUNDS && high - low > 1e-7; i++) {
      const guess = high - (highValue * (high - low)) / (highValue - lowValue);
      const trial = guess > low && guess < high ? guess : (low + high) / 2;
      state.set(before);
      model.finish(state, dtS * trial, this.law);
      const found = this.value(event);
      if (found >= 0) {
        high = trial;
        highValue = found;
        if (found < EVENT_TOLERANCE) return high; // the state is there
        if (side === 1) lowValue /= 2;
        side = 1;
      } else {
        low = trial;
        lowValue = found;
        if (side === -1) highValue /= 2;
        side = -1;
      }
    }
    state.set(before);
    model.finish(state, dtS * high, this.law);
    return high;
  }

  /** At or above 0 once an event is due. */
  private value(event: Event): number {
    const { model, program, state } = this;
    const { gearDownM, flapDownM } = program.technique;
    const heightM = state[H] as number;
    const phase = program.phase;
    switch (event) {
      case 'contact':
        return -program.heightM(state);
      case 'phase':
        return program.phaseEnd(state);
      case 'gear':
        return model.gearDown || gearDownM === null || phase === 'delay' ? -1 : gearDownM - heightM;
      case 'flap':
        return model.flapDown || flapDownM === null || !(phase === 'align' || phase === 'final')
          ? -1
          : flapDownM - heightM;
      case 'throttle':
        if (this.throttleClosed || model.powerTarget === 0) return -1;
        return Math.max(program.throttleDue(state), this.timeS - POWER_LIMIT_S);
    }
  }

  /** Carries out every change that is due now. */
  private applyChanges(): void {
    const { model, program, state } = this;
    for (let i = 0; i < CHANGE_LIMIT; i++) {
      let changed = false;
      if (this.value('phase') >= 0) {
        program.advance(model, state);
        if (program.phase !== 'turn') this.measures.turnedAtRollOutRad ??= this.measures.turnedRad;
        changed = true;
      }
      if (this.value('gear') >= 0) {
        model.gearDown = true;
        changed = true;
      }
      if (this.value('flap') >= 0) {
        model.flapDown = true;
        changed = true;
      }
      if (this.value('throttle') >= 0) {
        model.powerTarget = 0;
        this.throttleClosed = true;
        changed = true;
      }
      if (!changed) return;
    }
  }

  /** The gust of the step to come, the same all through it. */
  private gust(gusts: Turbulence, dtS: number): void {
    const { model, state } = this;
    gusts.step(dtS, state[H] as number, model.tasMps);
    model.gustX = gusts.alongMps;
    model.gustY = gusts.acrossMps;
    model.gustH = gusts.upMps;
  }

  /** Power that comes and goes, until the pilot closes the throttle; true when it has changed. */
  private changePower(): boolean {
    const power = this.power.dueAt(this.timeS);
    if (power === null || this.throttleClosed) return false;
    this.model.powerTarget = power;
    return true;
  }

  private endDelay(): void {
    this.measures.tasAfterDelayMps = this.model.tasMps;
    this.program.advance(this.model, this.state);
    this.applyChanges();
  }

  /** Rows that fall due inside a step, each flown from the state before it so that the flight itself is untouched. */
  private recordUpTo(tookS: number): void {
    const recorder = this.recorder;
    if (recorder === null) return;
    while (this.rows * recorder.everyS <= this.timeS + tookS + 1e-9) {
      const partS = this.rows * recorder.everyS - this.timeS;
      this.rowState.set(this.before);
      this.model.step(this.rowState, partS, this.law);
      this.addRow(this.rowState, partS);
    }
    this.model.begin(this.state, this.law); // the rows have used the model
  }

  private addRow(state: Float64Array, afterS = 0): void {
    const recorder = this.recorder;
    if (recorder === null) return;
    this.model.observe(state);
    addTrackRow(recorder.track, this.timeS + afterS, this.model, state, this.program.phase, recorder.runwayHeadingDeg);
    this.rows++;
  }
}
