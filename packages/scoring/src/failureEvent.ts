// The exercise's own word of the failure in a recording: of several, the one whose attempt is scored.
import type { RecordedEvent, Recording } from '@stillprop/contracts';

/** Its attempt was broken off by this. */
const ENDS: readonly RecordedEvent['code'][] = ['restored', 'go-around'];
const COMMANDS: readonly RecordedEvent['code'][] = ['fail-commanded', 'fail-now'];

interface ToldAttempt {
  readonly fromS: number;
  broken: boolean;
  /** It came down. */
  down: boolean;
}

/**
 * The attempts that the exercise's events tell of, in the order of time. A further command belongs to the same attempt
 * (it was given again, or the engine surges) until that was broken off, or the aeroplane has been on the ground since.
 */
export function toldAttempts({ events, samples }: Recording): readonly ToldAttempt[] {
  const attempts: ToldAttempt[] = [];
  const told = events.filter(({ timeS }) => timeS !== null).sort((a, b) => (a.timeS as number) - (b.timeS as number));
  const commands = told.filter(({ code }) => COMMANDS.includes(code)).length;
  const downBetween = (fromS: number, toS: number) =>
    samples.some(({ timeS, onGround }) => onGround === true && timeS > fromS && timeS < toS);
  for (const { code, timeS } of told) {
    const atS = timeS as number;
    const open = attempts.at(-1);
    if (COMMANDS.includes(code)) {
      if (open !== undefined && !open.down && commands > 1) open.down = downBetween(open.fromS, atS);
      if (open === undefined || open.broken || open.down) attempts.push({ fromS: atS, broken: false, down: false });
    } else if (open !== undefined && ENDS.includes(code) && !open.down) open.broken = true;
    else if (open !== undefined && code === 'contact') open.down = true;
  }
  const last = attempts.at(-1);
  if (attempts.length > 1 && last !== undefined && !last.down)
    last.down = downBetween(last.fromS, Number.POSITIVE_INFINITY);
  return attempts;
}

/**
 * When the failure that is scored was made, by the exercise's events. A recording that the exercise made holds one. Of
 * several, as where recordings were put together, it is the last that was flown to the ground without the power being
 * restored or a go-around; where none was, the last. null: no event tells of a failure.
 */
export function failureEventS(recording: Recording): number | null {
  const attempts = toldAttempts(recording);
  const complete = attempts.findLast(({ broken, down }) => !broken && down);
  return (complete ?? attempts.at(-1))?.fromS ?? null;
}
