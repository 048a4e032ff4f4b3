// The ground within reach at the loss of power, by the model with the technique asked, to be drawn on the plan.

export interface Reach {
  /** Corners in the runway frame, in order; the line closes by itself. */
  readonly outline: readonly { readonly alongFt: number; readonly acrossFt: number }[];
  /** Where the glide after a turn of so many degrees ends, right positive. */
  readonly ends: readonly { readonly turnDeg: number; readonly alongFt: number; readonly acrossFt: number }[];
}

export const REACH_LABEL = 'within reach at the failure';
