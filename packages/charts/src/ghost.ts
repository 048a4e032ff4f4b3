// The ghost: the same failure flown as asked, by the model, to be drawn beside what was flown.

/** Places and heights of a modelled flight from the loss of power to the contact, columns of equal length. */
export interface Ghost {
  readonly alongFt: readonly number[];
  readonly acrossFt: readonly number[];
  readonly heightFt: readonly number[];
}

export const GHOST_LABEL = 'as asked, by the model';
