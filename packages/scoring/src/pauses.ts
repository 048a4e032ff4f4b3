// Pauses of the simulator taken out of a recording, and the way back to the clock it was recorded by.
import type { Recording, Sample } from '@stillprop/contracts';
import { cleanSamples } from './cleanSamples.js';
import { failureEventS } from './failureEvent.js';

/** A shorter stop than this is not told apart from samples that came late (s). */
const LEAST_PAUSE_S = 0.5;
/** Times of a score are rounded to this (s): one that stood at the start of a pause stays there. */
const ROUNDED_S = 0.001;
/** Standing aeroplanes repeat their place without any pause (kt). */
const LEAST_KT = 30;
/** In a pause hardly any way is made: at most this share of what the speed makes in that time. */
const MOST_OF_THE_WAY = 0.25;
/** And the state goes on where it stopped: no more than this apart, and than this rate in the time flown. */
const ALTITUDE_FT = 20;
const HEADING_DEG = 10;
const HEADING_DEG_S = 30;
const SPEED_KT = 5;
const SPEED_KT_S = 10;
const FT_PER_DEG = 364_600; // a degree of latitude, near enough for the way between two samples
const FT_S_PER_KT = 1852 / 3600 / 0.3048;

export interface Pause {
  /** By the clock of the recording (s). */
  readonly atS: number;
  readonly lastsS: number;
}

/** A recording whose clock stands still in pauses, and how to tell the time of the recorded one. */
export interface Unpaused {
  readonly recording: Recording;
  readonly pauses: readonly Pause[];
  toRecorded(flownS: number): number;
  toFlown(recordedS: number): number;
}

/**
 * A pause shows as data that repeats while the clock of arrival runs, or as a step in the clock. Either way time passes
 * in which the aeroplane, at speed before and after, stays where it was, at its height, heading and speed. That time is
 * taken out of the samples, the events and the end, so that no delay, rate or mean counts it. Time that stands still
 * needs nothing taken out. Values that only come seldom are no pause: the next one is farther on by the way made.
 *
 * @returns The recording itself where there is no pause.
 */
export function withoutPauses(recording: Recording): Unpaused {
  const samples = cleanSamples(recording.samples, failureEventS(recording));
  const pauses: Pause[] = [];
  const kept: Sample[] = [];
  let standstillS = 0;
  let next = 0;
  for (let i = 0; i < samples.length; i++) {
    const sample = samples[i] as Sample;
    kept.push(standstillS === 0 ? sample : { ...sample, timeS: sample.timeS - standstillS });
    next = Math.max(next, i + 1); // the same for all of a run of repeats: none is looked through twice
    while (next < samples.length && isSamePlace(sample, samples[next] as Sample)) next++;
    if (next >= samples.length) continue;
    const stoppedS = pauseBetween(sample, samples[next] as Sample);
    if (stoppedS === 0) continue;
    pauses.push({ atS: sample.timeS, lastsS: stoppedS });
    standstillS += stoppedS;
    i = next - 1; // the repeated ones go with the pause
  }
  if (pauses.length === 0)
    return { recording, pauses, toRecorded: (flownS) => flownS, toFlown: (recordedS) => recordedS };
  const toFlown = (recordedS: number) =>
    recordedS - pauses.reduce((sum, { atS, lastsS }) => sum + Math.max(0, Math.min(recordedS - atS, lastsS)), 0);
  const toRecorded = (flownS: number) =>
    pauses.reduce((atS, pause) => (atS > pause.atS + ROUNDED_S ? atS + pause.lastsS : atS), flownS);
  const shifted = <Timed extends { readonly timeS: number | null }>(line: Timed): Timed =>
    line.timeS === null ? line : { ...line, timeS: toFlown(line.timeS) };
  return {
    recording: {
      ...recording,
      samples: kept,
      events: recording.events.map((event) => {
        const fallS = event.figures?.fallS;
        return shifted(
          fallS === undefined ? event : { ...event, figures: { ...event.figures, fallS: toFlown(fallS) } },
        );
      }),
      end: recording.end === null ? null : shifted(recording.end),
    },
    pauses,
    toRecorded,
    toFlown,
  };
}

function isSamePlace(a: Sample, b: Sample): boolean {
  return a.latitudeDeg === b.latitudeDeg && a.longitudeDeg === b.longitudeDeg && a.altitudeFt === b.altitudeFt;
}

/** Seconds stood still between two samples; 0: none. */
function pauseBetween(from: Sample, to: Sample): number {
  const lastsS = to.timeS - from.timeS;
  if (lastsS < LEAST_PAUSE_S) return 0;
  const speedOf = (sample: Sample) => sample.groundspeedKt ?? sample.trueAirspeedKt ?? sample.indicatedAirspeedKt;
  const [before, after] = [speedOf(from), speedOf(to)];
  if (before < LEAST_KT || after < LEAST_KT) return 0;
  const northFt = (to.latitudeDeg - from.latitudeDeg) * FT_PER_DEG;
  const turn = (((to.longitudeDeg - from.longitudeDeg) % 360) + 540) % 360;
  const eastFt = (turn - 180) * FT_PER_DEG * Math.cos((from.latitudeDeg * Math.PI) / 180);
  const flownS = Math.hypot(northFt, eastFt) / (((before + after) / 2) * FT_S_PER_KT);
  const stoppedS = lastsS - flownS;
  if (flownS > MOST_OF_THE_WAY * lastsS || stoppedS < LEAST_PAUSE_S) return 0;
  const climbFtS = Math.max(Math.abs(from.verticalSpeedFpm), Math.abs(to.verticalSpeedFpm)) / 60;
  if (Math.abs(to.altitudeFt - from.altitudeFt) > ALTITUDE_FT + 2 * climbFtS * flownS) return 0;
  const headingDeg = Math.abs(((to.headingDeg - from.headingDeg + 540) % 360) - 180);
  if (headingDeg > HEADING_DEG + HEADING_DEG_S * flownS) return 0;
  const speedKt = Math.abs(to.indicatedAirspeedKt - from.indicatedAirspeedKt);
  return speedKt > SPEED_KT + SPEED_KT_S * flownS ? 0 : stoppedS;
}
