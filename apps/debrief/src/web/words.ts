// Sentences and short words of the pages, made from contract data.

import { figure, plainNumber } from '@stillprop/charts';
import type { AttemptSummary, FlownOutcome, LiveState, RecordingHeader, Score, Weather } from '@stillprop/contracts';

export const OUTCOME_WORDS: Readonly<Record<FlownOutcome, string>> = {
  'stopped-on-runway': 'Stopped on the runway',
  overrun: 'Ran off the end of the runway',
  'on-airfield': 'Touched down on the airfield, off the runway',
  'off-airfield': 'Touched down outside the airfield',
  'wing-low-contact': 'Touched down with bank on',
  stall: 'Stalled',
  'landed-ahead': 'Landed ahead',
  crash: 'Hit the ground too hard',
  'no-contact': 'No touchdown recorded',
  'not-known': 'Outcome not known',
};

/** What the stand-in's scripted pilots do. */
const PILOT_WORDS: Readonly<Record<string, string>> = {
  prompt: 'Prompt: flies it well',
  hesitant: 'Hesitant: acts late',
  shallow: 'Shallow: too little bank',
  overbanked: 'Overbanked: stalls',
  'lands-ahead': 'Lands ahead',
  'never-reacts': 'Never reacts',
};
export const pilotWords = (pilot: string) => PILOT_WORDS[pilot] ?? pilot;

/** `Receiving, 20 samples a second`; where datagrams arrive and none is read, how many and why. */
export function linkWords({ state, rateHz, refusing }: LiveState['link']): string {
  if (refusing !== undefined) {
    const what =
      refusing.count === 1 ? '1 datagram arrived and is' : `${plainNumber(refusing.count)} datagrams arrived and are`;
    return `${what} refused; the first: ${refusing.reason}.`;
  }
  if (state === 'receiving') return `Receiving, ${plainNumber(rateHz)} samples a second`;
  return { closed: 'Link closed', silent: 'Waiting for samples', stale: 'Samples have stopped' }[state];
}

/** `total loss at 1,000 ft`, `power down to 40 % at 800 ft`, `no failure`. */
export function failureWords(header: Pick<RecordingHeader, 'drawn'>, failure: Score['failure']): string {
  const { kind, powerFraction } = header.drawn;
  const heightFt = failure?.heightFt ?? null;
  if (kind === 'none' || failure === null) return 'no failure';
  const what = {
    total: 'total loss',
    partial: `power down to ${plainNumber(powerFraction * 100)}\u00a0%`,
    surging: 'surging engine',
    none: '',
  }[kind];
  return `${what} at ${figure(heightFt, 'ft')}`;
}

/** Where the heights of an attempt's ledger end: only a contact that was found is named. */
export function ledgerEnd({
  score,
  header,
}: {
  readonly score: Pick<Score, 'events'>;
  readonly header: Pick<RecordingHeader, 'scenario'>;
}): 'contact' | 'floor' | 'air' {
  if (!score.events.some(({ code }) => code === 'contact')) return 'air';
  return header.scenario.practice.from === 'floor' ? 'floor' : 'contact';
}

/** `wind 255°/8 kt at 33 ft, 265°/14 kt at 1,000 ft` (true directions it blows from); `no wind`. */
export function windWords({ winds }: Weather): string {
  if (winds.length === 0) return 'no wind';
  const told = ({ fromTrueDeg, speedKt, heightFt }: Weather['winds'][number]) =>
    `${String(Math.round(fromTrueDeg)).padStart(3, '0')}°/${figure(speedKt, 'kt')} at ${figure(heightFt, 'ft')}`;
  return `wind ${winds.map(told).join(', ')}`;
}

/** `+12.4 s`, `−3.0 s`: seconds from where the charts count. */
export function momentWords(sinceS: number): string {
  return `${Math.round(sinceS * 10) > 0 ? '+' : ''}${figure(sinceS, 's')}`;
}

/** `25 Nov 2026, 19:42`, in the reader's own time zone. */
export function dateWords(iso: string): string {
  return new Date(iso).toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}

/** `25 Nov 2026` of `2026-11-25`. */
export function dayWords(day: string): string {
  const at = new Date(`${day}T00:00:00Z`);
  return at.toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
}

export const pilotName = ({ student }: Pick<AttemptSummary, 'student'>) => student ?? 'No name';
