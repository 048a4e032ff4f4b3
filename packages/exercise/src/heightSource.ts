// Which channel heights are counted from: what is told of an aeroplane that stands on the runway must be a height of about 0.
import type { Sample } from '@stillprop/contracts';
import type { ExerciseSetup, HeightSource } from './states.js';
import { inFeet } from './words.js';

/** Wheels, a runway's slope and its rounded elevation stay below this; a wrong pressure setting or elevation need not. Common practice, no source. */
export const OFF_FT = 50;

/**
 * The source that an aeroplane shows which stands on the ground or rolls slowly. Nothing is averaged: a channel that is
 * off is set aside whole.
 */
export function sourceOnGround(setup: ExerciseSetup, sample: Sample): HeightSource {
  const heightAside = sample.heightFt !== undefined && Math.abs(sample.heightFt) > OFF_FT;
  const elevationOff = Math.abs(sample.altitudeFt - setup.runway.elevationFt) > OFF_FT;
  return {
    heightAside,
    zeroAltitudeFt: elevationOff ? sample.altitudeFt : null,
    stood: { altitudeFt: sample.altitudeFt, heightFt: sample.heightFt ?? null },
  };
}

export interface SourceWords {
  readonly text: string;
  readonly figures: Readonly<Record<string, number>>;
}

/** What was set aside and what is used in its place, for recording and page; null: the channels agree. */
export function sourceWords(setup: ExerciseSetup, source: HeightSource): SourceWords | null {
  const { heightAside, zeroAltitudeFt, stood } = source;
  if (stood === null || setup.scenario.practice.from === 'floor') return null;
  const figures: Record<string, number> = { altitudeFt: stood.altitudeFt, elevationFt: setup.runway.elevationFt };
  if (stood.heightFt !== null) figures.heightFt = stood.heightFt;
  // Whoever reads the recording counts heights the same way by these two.
  if (heightAside) figures.heightAside = 1;
  if (zeroAltitudeFt !== null) figures.zeroAltitudeFt = zeroAltitudeFt;
  const off: string[] = [];
  if (heightAside && stood.heightFt !== null) off.push(`a height of ${inFeet(stood.heightFt)}`);
  if (zeroAltitudeFt !== null) {
    off.push(`an altitude of ${inFeet(zeroAltitudeFt)} (the runway lies at ${inFeet(setup.runway.elevationFt)})`);
  }
  if (off.length === 0) return null;
  const byHeight = !heightAside && stood.heightFt !== null;
  const used = byHeight
    ? 'the height channel'
    : zeroAltitudeFt === null
      ? "altitude less the runway's elevation"
      : 'altitude less what it was on the ground';
  return { text: `The data told ${off.join(' and ')} on the ground: heights are counted by ${used}.`, figures };
}
