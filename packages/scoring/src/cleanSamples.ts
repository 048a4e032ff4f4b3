// The one continuous flight inside a recording: in time order, nothing twice, cut where the simulator was put elsewhere.
import type { Sample } from '@stillprop/contracts';

/** Time going back by more than this is a restart, by less a datagram that came late. */
const RESTART_S = 2;
/** A step no aeroplane flies: farther than this, and faster than this over the ground. */
const JUMP_FT = 3_000;
const JUMP_FT_S = 900;
const FT_PER_DEG = 364_600; // a degree of latitude, near enough for finding jumps

/**
 * Samples of one unbroken stretch, ascending in time, one for each moment (of two at the same moment the one that came
 * later). Stretches are parted where time runs backwards by more than 2 s or the position jumps. It is the longest that
 * holds the moment of the failure, else the longest of all; of equals the later.
 *
 * @param failedAtS When the failure was made; null: not told.
 */
export function cleanSamples(samples: readonly Sample[], failedAtS: number | null): Sample[] {
  const all = stretches(samples);
  const holding = failedAtS === null ? [] : all.filter((stretch) => holds(stretch, failedAtS));
  let longest: Sample[] = [];
  for (const stretch of holding.length > 0 ? holding : all) if (stretch.length >= longest.length) longest = stretch;
  return longest;
}

/** From before the moment to after it. */
function holds(stretch: readonly Sample[], atS: number): boolean {
  const [first, last] = [stretch[0], stretch.at(-1)];
  return first !== undefined && last !== undefined && first.timeS < atS && last.timeS > atS;
}

function stretches(samples: readonly Sample[]): Sample[][] {
  const result: Sample[][] = [];
  let run: Sample[] = [];
  let newestS = Number.NEGATIVE_INFINITY;
  for (const sample of samples) {
    if (sample.timeS < newestS - RESTART_S) {
      result.push(...cutAtJumps(inOrder(run)));
      run = [];
      newestS = Number.NEGATIVE_INFINITY;
    }
    run.push(sample);
    newestS = Math.max(newestS, sample.timeS);
  }
  result.push(...cutAtJumps(inOrder(run)));
  return result;
}

function inOrder(run: readonly Sample[]): Sample[] {
  const sorted = [...run].sort((a, b) => a.timeS - b.timeS); // stable: of equals, the later one stays later
  return sorted.filter((sample, i) => sorted[i + 1]?.timeS !== sample.timeS);
}

function cutAtJumps(ordered: readonly Sample[]): Sample[][] {
  const result: Sample[][] = [[]];
  let previous: Sample | undefined;
  for (const sample of ordered) {
    if (previous !== undefined && isJump(previous, sample)) result.push([]);
    result.at(-1)?.push(sample);
    previous = sample;
  }
  return result;
}

function isJump(from: Sample, to: Sample): boolean {
  const north = (to.latitudeDeg - from.latitudeDeg) * FT_PER_DEG;
  const turn = (((to.longitudeDeg - from.longitudeDeg) % 360) + 540) % 360;
  const east = (turn - 180) * FT_PER_DEG * Math.cos((from.latitudeDeg * Math.PI) / 180);
  const distanceFt = Math.hypot(north, east);
  return distanceFt > JUMP_FT && distanceFt > JUMP_FT_S * (to.timeS - from.timeS);
}
