// Figures in sentences.

/** A height as people read it: whole feet, with a thousands separator and the unit. */
export function inFeet(heightFt: number): string {
  return `${Math.round(heightFt).toLocaleString('en-GB')} ft`;
}

/** A speed in whole knots with the unit. */
export function inKnots(speedKt: number): string {
  return `${Math.round(speedKt).toLocaleString('en-GB')} kt`;
}
