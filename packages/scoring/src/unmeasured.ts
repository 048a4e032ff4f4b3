// What the log of an imported recording did not measure is neither marked nor held against the pilot, and that is said.
import type {
  Criterion,
  CriterionName,
  Finding,
  FindingCode,
  Recording,
  RecordingHeader,
  Sample,
  Verdict,
} from '@stillprop/contracts';
import type { StallSeen } from './stall.js';
import type { Touchdown } from './touchdown.js';

type Channel = keyof Sample;

/** Channels without which a criterion says nothing. */
const NEEDED: { readonly [name in CriterionName]: readonly Channel[] } = {
  delay: ['bankDeg', 'pitchDeg'],
  bank: ['bankDeg'],
  airspeed: ['indicatedAirspeedKt'],
  touchdown: ['latitudeDeg', 'longitudeDeg'],
};

/** Channels that a finding rests on; the others rest on positions, heights and times. */
const FINDING_NEEDS: { readonly [code in FindingCode]?: readonly Channel[] } = {
  stall: ['indicatedAirspeedKt'],
  'stall-warning': ['indicatedAirspeedKt'],
  'low-turn': ['bankDeg'],
  'bank-at-contact': ['bankDeg'],
  'reacted-early': ['bankDeg', 'pitchDeg'],
  'no-action': ['bankDeg', 'pitchDeg'],
  'hard-contact': ['verticalSpeedFpm'],
  crash: ['verticalSpeedFpm', 'bankDeg'],
  'turned-back-without-return': ['indicatedAirspeedKt'],
  'return-was-open': ['indicatedAirspeedKt'],
};

const WORDS: { readonly [channel in Channel]?: string } = {
  indicatedAirspeedKt: 'airspeed (groundspeed is not airspeed)',
  bankDeg: 'bank (it is only inferred from the turn)',
  pitchDeg: 'pitch',
};

/** Those of the channels that this recording's log did not measure; none of a recording made beside a simulator. */
export function unmeasuredOf({ header }: Recording, channels: readonly Channel[]): Channel[] {
  return unmeasuredOfHeader(header, channels);
}

/** The same from the header alone. */
export function unmeasuredOfHeader({ imported }: RecordingHeader, channels: readonly Channel[]): Channel[] {
  const unmeasured = imported?.unmeasured ?? [];
  return channels.filter((channel) => unmeasured.includes(channel));
}

/** Why a criterion cannot be measured from this recording; null: nothing stands against it. */
export function whyUnmeasured(recording: Recording, name: CriterionName): string | null {
  const missing = unmeasuredOf(recording, NEEDED[name]);
  if (missing.length > 0)
    return `Not measured: the track log does not tell ${missing.map((channel) => WORDS[channel] ?? channel).join(' and ')}.`;
  if (name === 'delay' && recording.header.imported?.lossFrom === 'climb-end')
    return 'Not measured: the track log does not tell when the power was lost.';
  return null;
}

/** A criterion without its figures, with the reason in place of its sentence. */
export function withoutMarks<C extends Omit<Criterion, 'weight'>>(mark: C, text: string): C {
  return { ...mark, score: null, measured: null, atS: null, text, details: {} };
}

/** The findings that rest on what was measured. */
export function measuredFindings(recording: Recording, findings: Finding[]): Finding[] {
  return findings.filter(({ code }) => unmeasuredOf(recording, FINDING_NEEDS[code] ?? []).length === 0);
}

/** In place of a verdict and a ledger, where the speed at the loss of power is not known; null where it is. */
export function verdictUntold(recording: Recording): Verdict | null {
  if (unmeasuredOf(recording, ['indicatedAirspeedKt']).length === 0) return null;
  return {
    text: 'Whether a return existed is not told: the track log does not hold the airspeed at the loss of power.',
    neededFt: null,
    hadFt: null,
    returnExisted: null,
  };
}

/** No stall is told from a speed that was not measured. */
export function stallMeasured(recording: Recording, seen: StallSeen): StallSeen {
  if (unmeasuredOf(recording, ['indicatedAirspeedKt']).length === 0) return seen;
  return { leastMargin: null, leastMarginAtS: null, stalledAtS: null, warning: null };
}

/** No impact is told from an inferred sink or bank. */
export function touchdownMeasured(recording: Recording, touchdown: Touchdown | null): Touchdown | null {
  if (touchdown === null || unmeasuredOf(recording, ['verticalSpeedFpm', 'bankDeg']).length === 0) return touchdown;
  return { ...touchdown, crashed: false };
}

/** What the log of an imported recording cannot tell, as sentences for the debrief; '' for any other. */
export function importedNotes({ imported }: RecordingHeader): string {
  return imported === undefined ? '' : `Made from a track log. ${imported.notes.join(' ')}`;
}
