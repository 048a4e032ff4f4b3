// What goes into the exercise, what comes out of it, and what it remembers. README.md holds the table of states.
import type {
  Aircraft,
  CloseReason,
  DrawnFailure,
  ExerciseStateName,
  FailureMeans,
  LinkCommandName,
  LinkCommands,
  RecordedEvent,
  Runway,
  Sample,
  Scenario,
} from '@stillprop/contracts';
import type { Cause } from './stateTable.js';

/** Command sent to power falling, as an earlier attempt measured it; it holds for the pace it was measured at. */
export interface MeasuredLatency {
  readonly latencyS: number;
  /** Simulated seconds in a second of wall time. */
  readonly pace: number;
}

/** All that one attempt needs to know beforehand. */
export interface ExerciseSetup {
  readonly scenario: Scenario;
  readonly runway: Runway;
  readonly aircraft: Aircraft;
  readonly drawn: DrawnFailure;
  /** Decides the rhythm of a surging engine, and nothing else. */
  readonly seed: number;
  /** Commands that the link can send. */
  readonly commands: readonly LinkCommandName[];
  readonly expectedRateHz: number;
  /** Simulated seconds from command to power falling, before any was measured. */
  readonly commandLatencyS: number;
  /** What is done where the link has no command for the failure drawn; absent: nothing can be. */
  readonly noFailureCommand?: LinkCommands['noFailureCommand'];
  readonly measuredLatency?: MeasuredLatency | null;
}

export type PersonCommand = 'arm' | 'fail-now' | 'restore' | 'stop';

/** `receivedS` and `nowS` are seconds of one steady wall clock of the caller's; only differences count. */
export type ExerciseInput =
  | { readonly kind: 'sample'; readonly sample: Sample; readonly receivedS: number }
  | { readonly kind: 'tick'; readonly nowS: number }
  | { readonly kind: 'person'; readonly command: PersonCommand; readonly nowS: number }
  /** The caller has the simulator begin anew. */
  | { readonly kind: 'simulator-reset'; readonly nowS: number };

export interface EngineCommand {
  /** `throttle` sets the lever; `powerFraction` is then how far it is open. */
  readonly command: 'fail' | 'setPower' | 'throttle' | 'restore';
  readonly powerFraction: number;
  readonly propeller: DrawnFailure['propeller'];
}

/** How the failure drawn is made on a link; by hand there is no command. */
export type FailureOrder =
  | (EngineCommand & { readonly means: Exclude<FailureMeans, 'by-hand'> })
  | {
      readonly means: 'by-hand';
      readonly powerFraction: number;
    };

export type ExerciseAction =
  /** To the simulator, at once and before anything else. `fire` occurs at most once in an attempt. */
  | ({ readonly kind: 'send'; readonly purpose: 'fire' | 'repeat' | 'surge' | 'restore' } & EngineCommand)
  /** To the instructor, at once: what to do by hand. `fire` occurs at most once in an attempt, and then none is sent. */
  | { readonly kind: 'prompt'; readonly purpose: 'fire' | 'restore'; readonly text: string }
  /** Into the recording. Samples come in ascending time. */
  | { readonly kind: 'record-sample'; readonly sample: Sample }
  | { readonly kind: 'record-event'; readonly event: RecordedEvent }
  /** To the person whose command this was. */
  | { readonly kind: 'answer'; readonly ok: boolean; readonly text: string }
  | { readonly kind: 'close'; readonly reason: CloseReason; readonly text: string; readonly timeS: number | null };

/** One accepted moment, as far back as judgement needs it. */
export interface Moment {
  readonly timeS: number;
  readonly receivedS: number;
  readonly heightFt: number;
  readonly altitudeFt: number;
  /** Height plus kinetic energy as height. */
  readonly energyHeightFt: number;
  /** Vertical speed summed up over time. */
  readonly climbedFt: number;
  readonly powerFraction: number | null;
  readonly engineRpm: number | null;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly headingDeg: number;
  readonly bankDeg: number;
  readonly indicatedAirspeedKt: number;
  readonly groundspeedKt: number | null;
}

/** What heights are counted from, as the aeroplane standing on the ground shows which channel can be believed. */
export interface HeightSource {
  /** The height channel was far from 0 on the ground: altitude is used in its place. */
  readonly heightAside: boolean;
  /** Altitude where the aeroplane stood, where that was far from the runway's elevation; null: elevation is right. */
  readonly zeroAltitudeFt: number | null;
  /** Both channels where the aeroplane stood last, to see them part later. */
  readonly stood: { readonly altitudeFt: number; readonly heightFt: number | null } | null;
}

export interface PacePoint {
  readonly timeS: number;
  readonly receivedS: number;
}

/** Faults told a few times and otherwise counted. */
export type FaultName =
  | 'duplicate'
  | 'late'
  | 'jump'
  | 'clock'
  | 'gap'
  | 'pause'
  | 'disagreement'
  | 'parted'
  | 'unreadable';

/** A fault in words and figures, as it goes into the recording. */
export interface Fault {
  readonly name: FaultName;
  readonly text: string;
  readonly figures: Readonly<Record<string, number>>;
}

/** A channel that seems to be in another unit or of the other sign. */
export type DoubtName =
  | 'ground-height'
  | 'altitude'
  | 'height'
  | 'vertical-speed'
  | 'airspeed'
  | 'groundspeed'
  | 'heading'
  | 'bank';

export interface Doubt {
  readonly name: DoubtName;
  /** One sentence: what does not go together. */
  readonly text: string;
  /** Where to look. */
  readonly next: string;
  readonly figures: Readonly<Record<string, number>>;
}

/** What is held against the data of the last seconds, looked at once a simulated second. */
export interface Doubts {
  readonly lookedS: number | null;
  /** Looks in a row that found it, up to the last one. */
  readonly runs: Readonly<Partial<Record<DoubtName, number>>>;
  /** Found often enough to be told; they stay, because what shows a wrong unit (a turn, a climb) passes. */
  readonly standing: readonly Doubt[];
  readonly recorded: readonly DoubtName[];
}

/** What the stream of samples looks like. */
export interface Intake {
  readonly newest: Sample | null;
  /** Wall time of the newest sample that moved time on, and of any sample at all. */
  readonly advancedS: number | null;
  readonly heardS: number | null;
  /** Ascending, at least 0.1 simulated seconds apart save the newest, reaching back some seconds. */
  readonly moments: readonly Moment[];
  readonly recentIntervalsS: readonly number[];
  /** Two points some wall seconds apart, to tell the pace of simulated time from. */
  readonly pacePoints: readonly PacePoint[];
  /** Plausible samples since the last fault or silence, or since the data began, and the wall time of that. */
  readonly goodInARow: number;
  readonly troubleS: number | null;
  /** The newest height follows from the one before by the climb between: else the next sample tells whether it is right. */
  readonly steady: boolean;
  /** A place the aeroplane seems to have jumped to: the next sample tells whether it did. */
  readonly suspect: Sample | null;
  /** Samples in a row whose time went back. */
  readonly lateRun: { readonly count: number; readonly timeS: number; readonly sinceS: number } | null;
  readonly silent: boolean;
  /** The simulator's time stands still though samples come. */
  readonly paused: boolean;
  /** Samples with the newest one's time. */
  readonly sameTime: number;
  readonly heightSource: HeightSource;
  readonly doubts: Doubts;
  readonly faults: Readonly<Record<FaultName, number>>;
  readonly silences: number;
}

/** The failure once commanded. */
export interface Fired {
  readonly atS: number;
  readonly heightFt: number;
  /** Asked for by a person, not by the height drawn. */
  readonly byHand: boolean;
  readonly command: FailureOrder;
  readonly powerBefore: number | null;
  readonly rpmBefore: number | null;
  /** Climb of energy height before the failure (ft/s); null: too little flown to tell. */
  readonly energyRateBeforeFps: number | null;
  readonly timesSent: number;
  readonly lastSentS: number;
  readonly lastSentWallS: number;
  /** When a repeat was first due and could not go out; null: none is held back. */
  readonly heldBack: { readonly timeS: number; readonly wallS: number } | null;
  /** Accepted moments from the command until the fall was seen. */
  readonly since: readonly Moment[];
}

/** What a fall of power is told by; energy where no engine channel shows it. */
export type FallChannel = 'power' | 'rpm' | 'energy';

/** The fall of power, once seen. */
export interface PowerFall {
  readonly atS: number;
  readonly heightFt: number;
  /** What told it. `energy` beside an engine speed that stayed: a governed propeller held it up. */
  readonly channel: FallChannel;
  readonly latencyS: number | null;
  readonly pace: number | null;
}

export interface ExerciseState {
  readonly setup: ExerciseSetup;
  readonly name: ExerciseStateName;
  readonly openedS: number | null;
  readonly intake: Intake;
  /** Samples kept back until the lift-off, newest first: a reset before it starts the recording afresh. */
  readonly held: Held | null;
  readonly ground: { readonly seen: boolean; readonly heightFt: number | null; readonly airborneSinceS: number | null };
  readonly everLiftedOff: boolean;
  /** Said once each: no failure was drawn, the top was passed without one, a due failure waits for better data. */
  readonly noFailureTold: boolean;
  readonly passedTopTold: boolean;
  readonly heldBackTold: boolean;
  readonly faultsTold: Readonly<Record<FaultName, number>>;
  /** The newest fault in flight, for the page. */
  readonly lastFault: { readonly timeS: number; readonly text: string } | null;
  readonly fired: Fired | null;
  readonly fall: PowerFall | null;
  readonly restored: { readonly lowestHeightFt: number } | null;
  readonly nextSurgeS: number | null;
  readonly surges: number;
  readonly contact: { readonly timeS: number; readonly wallS: number } | null;
  readonly onGroundSinceS: number | null;
  readonly closed: { readonly reason: CloseReason; readonly text: string } | null;
}

export interface Held {
  readonly sample: Sample;
  readonly older: Held | null;
  readonly count: number;
}

export interface Move {
  readonly from: ExerciseStateName;
  readonly cause: Cause;
}

export interface Step {
  readonly state: ExerciseState;
  readonly actions: readonly ExerciseAction[];
  /** The rows of the table of states that this step went through, in order. */
  readonly moves: readonly Move[];
}
