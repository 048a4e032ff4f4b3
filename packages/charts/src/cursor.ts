// Moving the shared cursor by key, and saying in one line what stands under it.
import type { PhaseName, Trace } from '@stillprop/contracts';
import { bankFigure, figure, signedFigure } from './figures.js';
import { nextSampleS, type TimeWindow, valueAt } from './traceAt.js';
import { PHASE_WORDS } from './words.js';

const LEAP_S = 1;

/**
 * The moment a key leads to (recording seconds), inside the window; null for a key that is not ours.
 * Arrows step one sample, with Shift 1 s; Page Up and Page Down a tenth of the window; Home and End its ends.
 */
export function cursorStep(
  key: string,
  shift: boolean,
  atS: number,
  { fromS, toS }: TimeWindow,
  timeS: readonly number[],
): number | null {
  const stepped = (direction: 1 | -1) => (shift ? atS + direction * LEAP_S : nextSampleS(timeS, atS, direction));
  const page = (toS - fromS) / 10;
  const target: Record<string, number> = {
    ArrowRight: stepped(1),
    ArrowUp: stepped(1),
    ArrowLeft: stepped(-1),
    ArrowDown: stepped(-1),
    PageUp: atS + page,
    PageDown: atS - page,
    Home: fromS,
    End: toS,
  };
  const wanted = target[key];
  return wanted === undefined ? null : Math.min(toS, Math.max(fromS, wanted));
}

/** `13.2 s after power was lost, turn: height 861 ft, airspeed 87 kt, stall speed 69 kt, bank 37° right, −1,490 ft/min`. */
export function spokenMoment(
  trace: Trace,
  { originS, originText }: TimeWindow,
  phase: PhaseName | null,
  atS: number,
): string {
  const sinceS = atS - originS;
  const when = `${figure(Math.abs(sinceS), 's')} ${sinceS < 0 ? 'before' : 'after'} ${originText}`;
  return `${when}${phase ? `, ${PHASE_WORDS[phase].toLowerCase()}` : ''}: ${[
    `height ${figure(valueAt(trace, 'heightFt', atS), 'ft')}`,
    `airspeed ${figure(valueAt(trace, 'indicatedAirspeedKt', atS), 'kt')}`,
    `stall speed ${figure(valueAt(trace, 'stallSpeedKt', atS), 'kt')}`,
    `bank ${bankFigure(valueAt(trace, 'bankDeg', atS))}`,
    `vertical speed ${signedFigure(valueAt(trace, 'verticalSpeedFpm', atS), 'ft/min')}`,
  ].join(', ')}`;
}
