// The scripted pilots: each a set of habits, flown over the physics package's own guidance.
import type { Technique } from '@stillprop/contracts';

/** How a scripted pilot differs from the technique of the scenario. */
export interface Habits {
  /** What one says of them. */
  readonly text: string;
  /** Time from the failure to the first action (s); null: never acts. */
  readonly reactsAfterS: number | null;
  /** Bank in the turn (deg); null: the scenario's. */
  readonly bankDeg: number | null;
  /** Lands ahead, whatever the scenario's technique. */
  readonly ahead: boolean;
  /** Part-way round pulls this load factor at this bank, until the wing lets go. */
  readonly pulls: { readonly loadFactor: number; readonly bankDeg: number; readonly afterTurnDeg: number } | null;
}

const PROMPT: Habits = {
  text: 'reacts as practised, banks and holds speed as asked',
  reactsAfterS: 2.8,
  bankDeg: null,
  ahead: false,
  pulls: null,
};

export const PILOTS: Readonly<Record<string, Habits>> = {
  prompt: PROMPT,
  hesitant: { ...PROMPT, text: 'does nothing for six seconds, then flies well', reactsAfterS: 6 },
  shallow: { ...PROMPT, text: 'is afraid of bank, and turns at 28 degrees', bankDeg: 28 },
  overbanked: {
    ...PROMPT,
    text: 'pulls the turn tighter and tighter, until the wing stalls',
    pulls: { loadFactor: 2.9, bankDeg: 64, afterTurnDeg: 70 },
  },
  'lands-ahead': { ...PROMPT, text: 'lowers the nose and lands ahead', ahead: true },
  'never-reacts': { ...PROMPT, text: 'does nothing at all', reactsAfterS: null },
};

/** The scenario's technique as this pilot flies it. */
export function techniqueOf(habits: Habits, technique: Technique, wobbleS: number): Technique {
  return {
    ...technique,
    delayS: Math.max((habits.reactsAfterS ?? 0) + wobbleS, 0.5),
    bankDeg: habits.bankDeg ?? technique.bankDeg,
    turn: habits.ahead ? 'ahead' : technique.turn,
  };
}
