// A date and time with its zone as seconds since 1970.
const ISO = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/;

/** Seconds since 1970 of a date and time with its zone; null for anything else. */
export function isoSeconds(value: unknown): number | null {
  if (typeof value !== 'string' || !ISO.test(value.trim())) return null;
  const ms = Date.parse(value.trim());
  return Number.isFinite(ms) ? ms / 1000 : null;
}
