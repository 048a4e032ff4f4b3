// The steady wall clock (s): it never jumps when the computer's date is set.
export function nowS(): number {
  return performance.now() / 1000;
}
