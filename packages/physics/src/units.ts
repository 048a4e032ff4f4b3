// Exact conversion factors, and the sign and unit rules every other file keeps to.
// Inside the package: SI, radians, kelvin. Bank, turn and "across" count right positive, climb positive, sink positive down.

/** International foot (m), exact. */
export const M_PER_FT = 0.3048;
/** International knot (m/s), exact: one nautical mile of 1852 m in an hour. */
export const MPS_PER_KT = 1852 / 3600;
/** Foot per minute (m/s), exact. */
export const MPS_PER_FPM = M_PER_FT / 60;
/** Degree (rad). */
export const RAD_PER_DEG = Math.PI / 180;
/** Standard acceleration of free fall (m/s²), exact by definition. */
export const GRAVITY_MPS2 = 9.80665;
/** 0 °C (K), exact. */
export const KELVIN_AT_0C = 273.15;

/** The same direction or angle within -π … π (rad). */
export function wrapRad(angleRad: number): number {
  const turn = 2 * Math.PI;
  return angleRad - turn * Math.round(angleRad / turn);
}

/** The same direction within 0 … 360 (deg), 360 itself excluded. */
export function compassDeg(angleRad: number): number {
  const deg = (angleRad / RAD_PER_DEG) % 360;
  const positive = deg < 0 ? deg + 360 : deg;
  return positive >= 360 ? 0 : positive;
}

/** `value`, or the nearer end of the range it left. */
export function clamp(value: number, low: number, high: number): number {
  return value < low ? low : Math.min(value, high);
}
