// Figures in sentences.

/** A height as people read it: whole feet, with a thousands separator and the unit. */
export function inFeet(heightFt: number): string {
  return `${(Math.round(heightFt) + 0).toLocaleString('en-GB')} ft`; // + 0: no "-0"
}

/** A speed in whole knots with the unit. */
export function inKnots(speedKt: number): string {
  return `${Math.round(speedKt).toLocaleString('en-GB')} kt`;
}

/** A time in seconds, to a tenth where it is short. */
export function inSeconds(timeS: number): string {
  return `${timeS < 10 ? timeS.toFixed(1) : Math.round(timeS).toLocaleString('en-GB')} s`;
}
