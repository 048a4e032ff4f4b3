// Words for outcomes, alike in every command.
import { type FlyRequest, type FlyResult, isLandingAhead } from '@stillprop/physics';

const OUTCOME_WORDS: Record<FlyResult['outcome'], string> = {
  'stopped-on-runway': 'lands on the runway and stops on it',
  overrun: 'lands on the runway but cannot stop before its end',
  'on-airfield': 'comes down inside the airfield, off the runway',
  'off-airfield': 'comes down outside the airfield',
  'wing-low-contact': 'touches the ground with more than 10° of bank',
  stall: 'stalls',
};

/** True where a return was tried, and the ground came before the aeroplane had turned back. */
export function endedAhead({ outcome, turn, turnedDeg }: FlyResult): boolean {
  return turn !== 'ahead' && isLandingAhead(outcome, (turnedDeg * Math.PI) / 180);
}

/** Completes "by the model it …". */
export function outcomeWords({ runway }: FlyRequest, result: FlyResult): string {
  const { outcome, turn, touchdown } = result;
  if (turn === 'ahead') return AHEAD_WORDS[outcome] ?? OUTCOME_WORDS[outcome];
  if (!endedAhead(result)) return OUTCOME_WORDS[outcome];
  if (outcome === 'stall' || outcome === 'wing-low-contact')
    return `${OUTCOME_WORDS[outcome]} before it has turned back`;
  const startFt = -(runway.takeoffStartFt ?? 0);
  const leftFt = startFt + runway.lengthFt - touchdown.alongFt;
  const onRunway = leftFt >= 0 && touchdown.alongFt >= startFt && Math.abs(touchdown.acrossFt) <= runway.widthFt / 2;
  const place = onRunway
    ? 'on the runway it left'
    : outcome === 'on-airfield'
      ? 'inside the airfield, off the runway'
      : 'outside the airfield';
  return `comes down AHEAD, ${place}, before it has turned back`;
}

/** A landing ahead that was asked for. */
const AHEAD_WORDS: Partial<Record<FlyResult['outcome'], string>> = {
  'stopped-on-runway': 'lands ahead on the runway it left and stops on it',
  overrun: 'lands ahead on the runway it left but cannot stop before its end',
  'on-airfield': 'lands ahead, inside the airfield, off the runway',
  'off-airfield': 'lands ahead, outside the airfield',
};
