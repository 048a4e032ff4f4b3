// Figures as they stand in sentences: rounded, with their unit, the same on every machine.

/** 1234.5 -> "1,235". Zero never carries a sign. */
export function whole(value: number): string {
  const rounded = Math.round(value) || 0;
  const digits = String(Math.abs(rounded)).replace(/\B(?=(\d{3})+$)/g, ',');
  return rounded < 0 ? `−${digits}` : digits;
}
/** 3.14159 -> "3.1". */
export function oneDecimal(value: number): string {
  const text = Math.abs(value).toFixed(1);
  return value < 0 && text !== '0.0' ? `−${text}` : text;
}
export function feet(value: number): string {
  return `${whole(value)} ft`;
}
export function seconds(value: number): string {
  return `${oneDecimal(value)} s`;
}
/** As asked or allowed by a rubric: "3 s", "2.5 s". */
export function secondsAsked(value: number): string {
  return `${oneDecimal(value).replace(/\.0$/, '')} s`;
}
export function knots(value: number): string {
  return `${whole(value)} kt`;
}
export function degrees(value: number): string {
  return `${whole(value)}°`;
}
export function feetPerMinute(value: number): string {
  return `${whole(value)} ft/min`;
}
/** Stall margin as a speed ratio, "1.08". */
export function ratio(value: number): string {
  return value.toFixed(2);
}
/** First letter in capitals. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
/** "one", "one and two", "one, two and three". */
export function listed(parts: readonly string[]): string {
  return parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** Rounded for storage, so that the last bits of a machine's arithmetic never show; never -0. */
export function rounded(value: number, decimals = 3): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale || 0;
}
/** As {@link rounded}; null stays null. */
export function roundedOrNull(value: number | null | undefined, decimals = 3): number | null {
  return value === null || value === undefined || !Number.isFinite(value) ? null : rounded(value, decimals);
}
