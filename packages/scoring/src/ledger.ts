// Where the height went: one row for each phase from the loss of power to the contact, summing exactly.
import type { Ledger, PhaseName } from '@stillprop/contracts';
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT } from '@stillprop/physics';
import type { Attempt } from './attempt.js';
import { indexAt, samplesWithin, valueAt } from './columns.js';
import { meanAround } from './flight.js';
import type { Span } from './phases.js';
import { rounded } from './words.js';

/** Speed for the energy height is a mean over ±0.25 s. */
const SPEED_HALF_S = 0.25;

/**
 * Height and energy height spent in each phase between the loss of power and the contact (or the end of the recording,
 * or the floor). Heights are rounded to the foot *at the boundaries* before they are subtracted, so that the rows add
 * up exactly: heightAtFailureFt + Σ heightFt = heightAtContactFt. The delay is split where the aeroplane is highest:
 * what it climbed on, and what it then sank. Energy height is h + V²/2g with the true airspeed.
 *
 * @returns null when there was no loss of power, or no true airspeed to be had.
 */
export function ledgerOf(attempt: Attempt, spans: readonly Span[]): Ledger | null {
  const { flight, moments, kind } = attempt;
  const { lossS } = moments;
  if (lossS === null || flight.tasFrom === 'indicated') return null;
  const endS = moments.contactS ?? moments.endS;
  const rows = spans
    .filter(({ fromS, toS }) => fromS >= lossS && toS <= endS)
    .flatMap((span) => (span.name === 'delay' ? splitDelay(attempt, span) : [{ ...span, code: span.name as string }]));
  const rawHeightAt = (atS: number) =>
    atS === moments.contactS ? heightOnContact(attempt, atS) : valueAt(flight.timeS, flight.heightFt, atS);
  const heightAt = (atS: number) => Math.round(rawHeightAt(atS)) || 0;
  const energyAt = (atS: number) => {
    const speed = meanAround(flight, flight.tasKt, atS, SPEED_HALF_S) * MPS_PER_KT;
    return Math.round(rawHeightAt(atS) + speed ** 2 / (2 * GRAVITY_MPS2) / M_PER_FT);
  };
  return {
    heightAtFailureFt: heightAt(lossS),
    rows: rows.map(({ code, fromS, toS }) => ({
      code,
      text: rowText(code, kind),
      heightFt: heightAt(toS) - heightAt(fromS),
      energyFt: energyAt(toS) - energyAt(fromS),
      fromS: rounded(fromS),
      toS: rounded(toS),
    })),
    heightAtContactFt: heightAt(endS),
  };
}

/** Height of the ground as recorded right after the contact; over a floor 0: between samples it would be a little more. */
function heightOnContact({ flight, recording }: Attempt, contactS: number): number {
  if (recording.header.scenario.practice.from === 'floor') return 0;
  const { timeS, heightFt, count } = flight;
  const before = indexAt(timeS, contactS);
  const next = timeS[before] === contactS ? before : before + 1;
  return next < count ? (heightFt[next] as number) : valueAt(timeS, heightFt, contactS);
}

interface Row {
  readonly code: string;
  readonly fromS: number;
  readonly toS: number;
}

function splitDelay({ flight }: Attempt, { fromS, toS }: Span): Row[] {
  const { timeS, heightFt } = flight;
  let topS = fromS;
  let topFt = valueAt(timeS, heightFt, fromS);
  const span = samplesWithin(timeS, fromS, toS);
  if (span !== null)
    for (let i = span.first; i <= span.last; i++) {
      if ((heightFt[i] as number) <= topFt) continue;
      topFt = heightFt[i] as number;
      topS = timeS[i] as number;
    }
  if (valueAt(timeS, heightFt, toS) >= topFt) topS = toS;
  const rows: Row[] = [];
  if (topS > fromS) rows.push({ code: 'climbed-on', fromS, toS: topS });
  if (toS > topS) rows.push({ code: 'delay', fromS: topS, toS });
  return rows;
}

const ROW_WORDS: { readonly [code in PhaseName | 'climbed-on']: string } = {
  'take-off': 'Take-off',
  climb: 'Climb',
  'climbed-on': 'Climbed on before you acted',
  delay: 'Sank before you acted',
  push: 'Push',
  turn: 'Turn',
  straight: 'Straight',
  align: 'Alignment turn',
  final: 'Final',
  flare: 'Flare',
  'roll-out': 'Roll-out',
};

function rowText(code: string, kind: 'return' | 'ahead'): string {
  if (kind === 'ahead' && code === 'straight') return 'Glide ahead';
  return ROW_WORDS[code as PhaseName | 'climbed-on'];
}
