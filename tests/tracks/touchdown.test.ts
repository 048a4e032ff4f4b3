// A track log of a flight whose touchdown is known, with the errors of a receiver put in: how far off it is scored.
import { readRecording, type Sample } from '@stillprop/contracts';
import { scoreRecording } from '@stillprop/scoring';
import { importedRecording } from '@stillprop/tracks';
import { expect, test } from 'vitest';
import { flownRecordingText, shelfBundle } from '../support/flownRecording.js';
import { seededRandom } from '../support/seededRandom.js';

/** Errors of a receiver that wander (standard deviations in m, time of correlation in s); common practice, no source. */
const NOISE = { acrossM: 3, upM: 5, fadesS: 30 };
const M_PER_DEG = 111_200;
const bundle = shelfBundle('first-turn-back');

/** GPX of every `step`th sample, with the errors drawn for a seed. */
function noisyGpx(samples: readonly Sample[], step: number, rateHz: number, seed: number): string {
  const random = seededRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const keeps = Math.exp(-1 / rateHz / NOISE.fadesS);
  let [north, east, up] = [normal(), normal(), normal()];
  const wander = (error: number) => keeps * error + Math.sqrt(1 - keeps ** 2) * normal();
  const points = samples.flatMap(({ timeS, latitudeDeg, longitudeDeg, altitudeFt }, i) => {
    if (i % step !== 0) return [];
    [north, east, up] = [wander(north), wander(east), wander(up)];
    const latitude = latitudeDeg + (north * NOISE.acrossM) / M_PER_DEG;
    const longitude = longitudeDeg + (east * NOISE.acrossM) / (M_PER_DEG * Math.cos((latitudeDeg * Math.PI) / 180));
    const time = new Date(Date.UTC(2026, 0, 31, 9, 30) + (timeS - (samples[0]?.timeS ?? 0)) * 1000).toISOString();
    return `<trkpt lat="${latitude}" lon="${longitude}"><ele>${altitudeFt * 0.3048 + up * NOISE.upM}</ele><time>${time}</time></trkpt>`;
  });
  return `<gpx version="1.1"><trk><trkseg>${points.join('')}</trkseg></trk></gpx>`;
}

test('nine of ten touchdowns are within 250 ft, the middle one within 60 ft, and every outcome is the one flown', {
  timeout: 60_000,
}, async () => {
  const errorsFt: number[] = [];
  for (const pilot of ['prompt', 'hesitant', 'shallow']) {
    for (const seed of [1, 2]) {
      const read = readRecording(flownRecordingText({ pilot, seed, heightFt: 950 }));
      if (!read.ok) throw new Error(read.problem.message);
      const { samples } = read.recording;
      const truth = scoreRecording(read.recording);
      const failedAt = String((truth.failure?.atS ?? 0) - (samples[0]?.timeS ?? 0));
      for (const rateHz of [1, 5]) {
        for (const noise of [1, 2, 3]) {
          const log = noisyGpx(samples, 20 / rateHz, rateHz, 1000 * seed + 10 * noise + rateHz);
          const made = await importedRecording({ log, bundle, failedAt, student: null });
          const again = readRecording(made.ok ? made.value.text : '');
          if (!again.ok) throw new Error(again.problem.message);
          const score = scoreRecording(again.recording);
          expect(score.outcome).toBe(truth.outcome);
          const { touchdown } = score.criteria;
          errorsFt.push((touchdown.measured ?? Number.NaN) - (truth.criteria.touchdown.measured ?? Number.NaN));
        }
      }
    }
  }
  expect(errorsFt).toHaveLength(36);
  expect(errorsFt.every(Number.isFinite)).toBe(true);
  const sizes = errorsFt.map(Math.abs).sort((a, b) => a - b);
  expect(sizes[Math.floor(0.9 * sizes.length) - 1]).toBeLessThan(250);
  const middle = [...errorsFt].sort((a, b) => a - b)[18] as number;
  expect(Math.abs(middle)).toBeLessThan(60);
});
