// The flat state vector of one aeroplane: indices, and steady states to start from.

/** Indices into the state: SI, runway frame (x along the take-off direction, y right, h up), inertial velocity. */
export const X = 0;
export const Y = 1;
export const H = 2;
export const VX = 3;
export const VY = 4;
export const VH = 5;
/** Bank, right wing down positive (rad). */
export const BANK = 6;
/** Lift coefficient asked of the wing; above the largest one the wing is stalled. */
export const LIFT = 7;
/** Share of full power, 0 to 1. */
export const POWER = 8;
export const STATE_SIZE = 9;
