// One attempt under way: feeds the exercise, and does what it says to the simulator, the recording and the person.
import type { CloseReason, LinkCommandName, RecordingHeader } from '@stillprop/contracts';
import {
  advance,
  type ExerciseAction,
  type ExerciseInput,
  type ExerciseSetup,
  type ExerciseState,
  startExercise,
} from '@stillprop/exercise';
import type { CommandValues } from '@stillprop/links';
import type { Recorder } from './recorder.js';

export interface AttemptListener {
  send(name: LinkCommandName, values: CommandValues): void;
  /** null: what the last alarm told is over. */
  onAlarm(message: string | null): void;
  /** What the instructor must do by hand now; null: it is done, or not wanted any more. */
  onPrompt(message: string | null): void;
  onClosed(attempt: Attempt, reason: CloseReason, text: string): void;
}

/** What came of a person's word. */
export interface Said {
  readonly ok: boolean;
  readonly text: string;
}

/** From this share of power on the throttle was opened again. */
const POWER_BACK = 0.5;

export class Attempt {
  #state: ExerciseState;
  #finished: Promise<string | null> | null = null;
  /** Resolves when the header is on the disk, or the disk has refused it and the alarm was raised. */
  readonly begun: Promise<void>;
  #prompted: 'fire' | 'restore' | null = null;

  /** @throws {RangeError} If the link cannot make the failure drawn. */
  constructor(
    readonly header: RecordingHeader,
    setup: ExerciseSetup,
    private readonly recorder: Recorder,
    private readonly outbox: string,
    private readonly listener: AttemptListener,
  ) {
    this.#state = startExercise(setup);
    recorder.append(header);
    this.begun = recorder.flushed();
  }

  get state(): ExerciseState {
    return this.#state;
  }

  get over(): boolean {
    return this.#state.name === 'closed' || this.#finished !== null;
  }

  /** Resolves when the recording is in the outbox (its path) or was given up (null); null while the attempt goes on. */
  get finished(): Promise<string | null> | null {
    return this.#finished;
  }

  /** The disk refused what was last offered to it of this attempt. */
  get inTrouble(): boolean {
    return this.recorder.inTrouble;
  }

  /** Gives one input to the exercise. @returns Its answer to a person, if this was a person's word. */
  give(input: ExerciseInput): Said | null {
    if (this.#finished !== null) return null;
    const step = advance(this.#state, input);
    this.#state = step.state;
    let said: Said | null = null;
    for (const action of step.actions) said = this.#act(action) ?? said;
    if (input.kind === 'sample' && this.#prompted === 'restore') {
      if ((input.sample.powerFraction ?? 0) > POWER_BACK) this.#endPrompt();
    }
    return said;
  }

  /** The program closes in the middle of an attempt. */
  interrupt(): void {
    if (this.over) return;
    const timeS = this.#state.intake.newest?.timeS ?? null;
    const text = 'The bridge was closed.';
    this.recorder.append({ kind: 'event', timeS, code: 'closed', text });
    this.#close('interrupted', text, timeS);
  }

  /** Ends retries against a disk that refuses. */
  giveUp(): void {
    this.recorder.giveUp();
  }

  #act(action: ExerciseAction): Said | null {
    switch (action.kind) {
      case 'send':
        this.#send(action);
        return null;
      case 'prompt':
        this.#prompted = action.purpose;
        this.listener.onPrompt(action.text);
        return null;
      case 'record-sample':
        this.recorder.append({ kind: 'sample', ...action.sample });
        return null;
      case 'record-event':
        this.recorder.append(action.event);
        if (action.event.code === 'not-obeyed') this.listener.onAlarm(action.event.text);
        if (action.event.code === 'power-fell') {
          this.listener.onAlarm(null); // it obeyed after all
          if (this.#prompted === 'fire') this.#endPrompt();
        }
        return null;
      case 'close':
        this.#close(action.reason, action.text, action.timeS);
        return null;
      case 'answer':
        return { ok: action.ok, text: action.text };
    }
  }

  #send({ command, powerFraction, propeller }: Extract<ExerciseAction, { kind: 'send' }>): void {
    try {
      this.listener.send(command, { powerFraction, throttleFraction: powerFraction, propeller });
    } catch (error) {
      this.listener.onAlarm(`The command "${command}" could not be sent: ${(error as Error).message}`);
    }
  }

  #endPrompt(): void {
    this.#prompted = null;
    this.listener.onPrompt(null);
  }

  #close(reason: CloseReason, text: string, timeS: number | null): void {
    if (this.#prompted !== null) this.#endPrompt();
    this.#finished = this.recorder.finish({ timeS, reason, text }, this.outbox);
    this.listener.onClosed(this, reason, text);
  }
}
