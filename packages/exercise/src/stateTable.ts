// The table of states as data: what leads from which state to which, what is said and recorded. Steps take it from here; STATES.md is written from it.
import type { CloseReason, ExerciseEventCode, ExerciseStateName } from '@stillprop/contracts';
import type { ExerciseInput, PersonCommand } from './states.js';

export type InputKind = Exclude<ExerciseInput['kind'], 'person'> | PersonCommand;

export interface Transition {
  readonly from: readonly ExerciseStateName[];
  readonly to: ExerciseStateName;
  /** The inputs that can bring it. */
  readonly by: readonly InputKind[];
  readonly when: string;
  /** To the person who asked, or on the page. */
  readonly says: string;
  /** In this order, others may stand between. */
  readonly records: readonly ExerciseEventCode[];
}

export const STATE_MEANS: Readonly<Record<ExerciseStateName, string>> = {
  idle: 'nothing is armed',
  armed: 'no lift-off seen',
  climbing: 'airborne, failure to come',
  firing: 'command sent, power not seen to fall',
  disobeyed: 'the simulator did not obey',
  watching: 'failure flown, or none to come',
  closed: 'over: nothing is sent or recorded any more',
};
export const STATE_NAMES = Object.keys(STATE_MEANS) as ExerciseStateName[];

const OPEN = ['armed', 'climbing', 'firing', 'disobeyed', 'watching'] as const;
const FAILED = ['firing', 'disobeyed', 'watching'] as const;
const closes = (
  from: readonly ExerciseStateName[],
  by: readonly InputKind[],
  when: string,
  says: string,
  records: readonly ExerciseEventCode[] = ['closed'],
): Transition => ({ from, to: 'closed', by, when, says, records });

const MOVES = {
  arm: {
    from: ['idle'],
    to: 'armed',
    by: ['arm'],
    when: 'a person arms',
    says: 'Armed.',
    records: ['armed'],
  },
  'lift-off': {
    from: ['armed'],
    to: 'climbing',
    by: ['sample'],
    when: 'seen on the ground (or at the floor) first, then airborne for 0.5 s or 10 ft, at flying speed',
    says: 'Airborne.',
    records: ['lift-off'],
  },
  'touched-down-unfailed': {
    from: ['climbing'],
    to: 'armed',
    by: ['sample'],
    when: 'on the ground (or back at the floor) before a failure: the next lift-off must be seen too',
    says: 'Armed. On the ground.',
    records: [],
  },
  'failure-due': {
    from: ['climbing'],
    to: 'firing',
    by: ['sample'],
    when: 'climbing, the height predicted for the moment of the effect reaches the drawn height, and the gate is open',
    says: 'Failure sent. Waiting for the power to fall.',
    records: ['fail-commanded'],
  },
  'failed-by-hand': {
    from: ['climbing', 'watching'],
    to: 'firing',
    by: ['fail-now'],
    when: 'a person fails the engine, it was not failed before, and the gate is open',
    says: 'Failure sent.',
    records: ['fail-now', 'fail-commanded'],
  },
  'none-drawn': {
    from: ['climbing'],
    to: 'watching',
    by: ['sample'],
    when: 'no failure was drawn, and the highest height is passed',
    says: 'No failure in this attempt.',
    records: ['no-failure-drawn'],
  },
  'power-fell': {
    from: ['firing', 'disobeyed'],
    to: 'watching',
    by: ['sample'],
    when: 'power is seen to fall; once disobeyed, by an engine channel within 30 s only',
    says: 'Engine failed.',
    records: ['power-fell'],
  },
  'not-obeyed': {
    from: ['firing'],
    to: 'disobeyed',
    by: ['sample'],
    when: 'three repeats and no fall, or a repeat held back too long by the gate',
    says: 'The simulator did not obey: the engine still runs.',
    records: ['not-obeyed'],
  },
  restored: {
    from: FAILED,
    to: 'watching',
    by: ['restore'],
    when: 'a person restores the power after a failure',
    says: 'The simulator was asked to restore the power.',
    records: ['restored'],
  },
} as const satisfies Record<string, Transition>;

export type ClosingReason = Exclude<CloseReason, 'interrupted'>;
const CLOSES: Readonly<Record<ClosingReason, Transition>> = {
  stopped: closes(
    OPEN,
    ['sample', 'tick'],
    'after a lift-off: standing on the ground for 2 s, or 30 s after the contact, or silence 3 s after it',
    'Attempt over. The aeroplane is on the ground and has stopped.',
  ),
  floor: closes(
    FAILED,
    ['sample'],
    'practice over a floor, after the failure or its absence: height 0',
    'Attempt over. The floor was reached.',
  ),
  'left-area': closes(
    OPEN,
    ['sample'],
    'after a lift-off: too far from the take-off end',
    'Attempt over. The aeroplane is too far from the runway.',
  ),
  'simulator-reset': closes(
    OPEN,
    ['sample', 'simulator-reset'],
    'after a lift-off: moved to another place, time went back or jumped ahead and goes on from there, or a reset was sent',
    'Attempt over, and which of these it was.',
  ),
  'went-around': closes(
    ['watching'],
    ['sample'],
    'power came back after the failure and the aeroplane climbed 100 ft on it',
    'Attempt over. Power came back and the aeroplane climbed away.',
    ['go-around', 'closed'],
  ),
  instructor: closes(OPEN, ['stop'], 'a person stops it', 'Stopped.'),
  'link-lost': closes(
    OPEN,
    ['tick'],
    'no data for 30 s of wall time (10 min before a lift-off)',
    'Attempt over. No data for 30 s.',
  ),
};

export type Cause = keyof typeof MOVES | ClosingReason;
export const STATE_TABLE: Readonly<Record<Cause, Transition>> = { ...MOVES, ...CLOSES };

const OVER = 'The attempt is over.';
const UNARMED = 'Nothing is armed.';
const ARMED_ALREADY = 'An attempt is armed already.';
const FAILED_ALREADY = 'The engine was failed already: never twice in one attempt.';
const NOT_UP = 'No lift-off was seen yet: never on the ground.';

/** Words that a state by itself refuses. */
export const REFUSALS: Readonly<Record<PersonCommand, Readonly<Partial<Record<ExerciseStateName, string>>>>> = {
  arm: { ...Object.fromEntries(OPEN.map((name) => [name, ARMED_ALREADY])), closed: OVER },
  'fail-now': { idle: UNARMED, armed: NOT_UP, firing: FAILED_ALREADY, disobeyed: FAILED_ALREADY, closed: OVER },
  restore: { idle: UNARMED, closed: OVER },
  stop: { idle: UNARMED, closed: OVER },
};
