// What a pilot chose last on the Fly page, kept in this browser for the next attempt.

export interface FlyChoice {
  readonly scenarioId: string | null;
  readonly linkId: string | null;
  readonly student: string;
  /** Scripted pilot of the stand-in. */
  readonly pilot: string | null;
  readonly speed: number;
}

const KEY = 'stillprop.fly';
export const NO_CHOICE: FlyChoice = { scenarioId: null, linkId: null, student: '', pilot: null, speed: 5 };
export const SPEEDS: readonly number[] = [1, 2, 5, 10, 20];

/** The kept choice; what is missing or of the wrong kind falls back to no choice. */
export function readChoice(text: string | null): FlyChoice {
  let kept: unknown;
  try {
    kept = JSON.parse(text ?? '');
  } catch {
    return NO_CHOICE;
  }
  if (typeof kept !== 'object' || kept === null) return NO_CHOICE;
  const { scenarioId, linkId, student, pilot, speed } = kept as Record<string, unknown>;
  const word = (value: unknown) => (typeof value === 'string' ? value : null);
  return {
    scenarioId: word(scenarioId),
    linkId: word(linkId),
    student: word(student) ?? '',
    pilot: word(pilot),
    speed: SPEEDS.includes(speed as number) ? (speed as number) : NO_CHOICE.speed,
  };
}

export function keptChoice(): FlyChoice {
  try {
    return readChoice(localStorage.getItem(KEY));
  } catch {
    return NO_CHOICE;
  }
}

export function keepChoice(choice: FlyChoice) {
  try {
    localStorage.setItem(KEY, JSON.stringify(choice));
  } catch {
    // A browser that keeps nothing asks again next time.
  }
}
