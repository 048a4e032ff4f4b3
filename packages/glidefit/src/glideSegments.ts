// Which stretches of a recording are a glide that can be fitted: engine dead, clear of the ground, one configuration, no jerks.
import type { Recording } from '@stillprop/contracts';
import { type Aeroplane, calibratedFromTrue, M_PER_FT, RAD_PER_DEG } from '@stillprop/physics';
import { type GlideColumns, slopes } from './glideColumns.js';

/** Less power than this pulls less than a hundredth of the drag. */
const DEAD_POWER = 0.01;
/** Power and propeller settle for this long after the power is gone, or after an event told of its loss (s). */
const SETTLE_S = 1;
const EVENT_SETTLE_S = 3;
/** Ground effect is below 0.3 % of the induced drag from here up, in spans; never below 60 ft, where flares begin. */
const CLEAR_OF_GROUND_SPANS = 1.5;
const CLEAR_OF_GROUND_M = 60 * M_PER_FT;
/** Gliding, not jerking: rates of bank and pitch over ±0.5 s (rad/s), bank (rad); common practice, no source. */
const RATE_HALF_S = 0.5;
const MOST_ROLL_RAD_S = 12 * RAD_PER_DEG;
const MOST_PITCH_RAD_S = 5 * RAD_PER_DEG;
const MOST_BANK_RAD = 60 * RAD_PER_DEG;
/** A wing this near its largest lift has left the parabola. */
const MOST_LIFT_SHARE = 1 / 1.03 ** 2;
/** Slower than this share of the stall speed is no flight, whatever lift is asked for. */
const LEAST_SPEED_SHARE = 0.7;
/** Samples farther apart than this are no stretch; a height step faster than this is a reset (s, m/s). */
const GAP_S = 1.5;
const JUMP_MPS = 150;
/** A stretch shorter than this tells too little (s). */
const LEAST_STRETCH_S = 6;
/** Gear and flap within this of a position stand there. */
const STANDS = 0.02;

/** Samples `first` to `last` of the columns, both included. */
export interface Segment {
  readonly first: number;
  readonly last: number;
  /** Drag coefficient that gear and flap add by the aircraft file. */
  readonly configurationDrag: number;
}

export interface Segments {
  readonly segments: readonly Segment[];
  /** Why samples were left out, with how many, the most frequent first. */
  readonly reasons: readonly { readonly reason: string; readonly samples: number }[];
  readonly powerFrom: 'recorded' | 'events' | 'assumed';
}

/** Gliding stretches between two times; `ranged` says that a person chose them. */
export function glideSegments(
  recording: Recording,
  columns: GlideColumns,
  plane: Aeroplane,
  fromS: number,
  toS: number,
  ranged: boolean,
): Segments {
  const { samples, timeS } = columns;
  const power = powerTest(recording, columns, ranged);
  const roll = slopes(timeS, columns.bankRad, RATE_HALF_S);
  const pitch = slopes(
    timeS,
    Float64Array.from(samples, (sample) => sample.pitchDeg * RAD_PER_DEG),
    RATE_HALF_S,
  );
  const clearM = Math.max(CLEAR_OF_GROUND_SPANS * plane.wingSpanM, CLEAR_OF_GROUND_M);
  const slowestMps = LEAST_SPEED_SHARE * plane.stallCleanMps;
  const counts = new Map<string, number>();
  const whyNot = (i: number): string | null => {
    const sample = samples[i];
    if (sample === undefined) return 'is missing';
    const pressureN = 0.5 * (columns.densityKgM3[i] as number) * (columns.tasMps[i] as number) ** 2 * plane.wingAreaM2;
    const lift = ((columns.loadFactor[i] as number) * plane.weightN) / pressureN;
    const aboveGroundM = (sample.heightAboveGroundFt ?? Number.POSITIVE_INFINITY) * M_PER_FT;
    if (sample.onGround === true) return 'on the ground';
    if (!power.dead(i)) return 'with power, or just after its loss';
    if (Math.min(columns.heightM[i] as number, aboveGroundM) < clearM) return 'too near the ground';
    if (calibratedFromTrue(columns.tasMps[i] as number, columns.densityKgM3[i] as number) < slowestMps)
      return 'too slow';
    if (sample.stallWarning === true || !(lift < MOST_LIFT_SHARE * plane.liftMaxClean)) return 'too near the stall';
    if (Math.abs(columns.bankRad[i] as number) > MOST_BANK_RAD) return 'banked more than 60°';
    if (Math.abs(roll[i] as number) > MOST_ROLL_RAD_S || Math.abs(pitch[i] as number) > MOST_PITCH_RAD_S)
      return 'rolling or pitching too fast';
    if (!standing(sample.gearFraction) || !standing(sample.flapFraction)) return 'with gear or flap moving';
    return null;
  };
  const drag = (i: number) =>
    Math.round(samples[i]?.gearFraction ?? 0) * plane.gearDrag +
    Math.round(samples[i]?.flapFraction ?? 0) * plane.flapDrag;
  const found: Segment[] = [];
  let open = -1;
  const close = (last: number) => {
    if (open >= 0 && (timeS[last] as number) - (timeS[open] as number) >= LEAST_STRETCH_S)
      found.push({ first: open, last, configurationDrag: drag(open) });
    open = -1;
  };
  for (let i = 0; i < samples.length; i++) {
    const atS = timeS[i] as number;
    if (atS < fromS || atS > toS) {
      close(i - 1);
      continue;
    }
    const reason = whyNot(i);
    if (reason !== null) {
      counts.set(reason, (counts.get(reason) ?? 0) + 1);
      close(i - 1);
      continue;
    }
    if (open >= 0 && (breaks(columns, i) || drag(i) !== drag(open))) close(i - 1);
    if (open < 0) open = i;
  }
  close(samples.length - 1);
  const reasons = [...counts].map(([reason, count]) => ({ reason, samples: count }));
  reasons.sort((a, b) => b.samples - a.samples);
  return { segments: oneConfiguration(found, timeS), reasons, powerFrom: power.from };
}

function standing(fraction: number | undefined): boolean {
  return fraction === undefined || Math.min(fraction, 1 - fraction) <= STANDS;
}

function breaks({ timeS, heightM }: GlideColumns, i: number): boolean {
  const dtS = (timeS[i] as number) - (timeS[i - 1] as number);
  return dtS > GAP_S || Math.abs((heightM[i] as number) - (heightM[i - 1] as number)) > JUMP_MPS * dtS;
}

/** The clean stretches; where there are none, those of the configuration flown longest. */
function oneConfiguration(segments: readonly Segment[], timeS: Float64Array): Segment[] {
  const spans = new Map<number, number>();
  for (const { first, last, configurationDrag } of segments) {
    const spanS = (timeS[last] as number) - (timeS[first] as number);
    spans.set(configurationDrag, (spans.get(configurationDrag) ?? 0) + spanS);
  }
  const longest = [...spans].sort((a, b) => b[1] - a[1])[0]?.[0];
  const chosen = spans.has(0) ? 0 : longest;
  return segments.filter(({ configurationDrag }) => configurationDrag === chosen);
}

/** Tells for each sample whether the engine is dead: by its power, else by the events, else because a person says so. */
function powerTest(recording: Recording, { samples, timeS }: GlideColumns, ranged: boolean) {
  if (samples.some((sample) => sample.powerFraction !== undefined)) {
    let known = 1;
    let deadSinceS = Number.POSITIVE_INFINITY;
    const dead = samples.map((sample, i) => {
      known = sample.powerFraction ?? known;
      if (known > DEAD_POWER) deadSinceS = Number.POSITIVE_INFINITY;
      else deadSinceS = Math.min(deadSinceS, timeS[i] as number);
      return (timeS[i] as number) >= deadSinceS + SETTLE_S;
    });
    return { from: 'recorded' as const, dead: (i: number) => dead[i] === true };
  }
  const { events, header } = recording;
  const told = ['power-fell', 'fail-commanded', 'fail-now'] as const;
  const lostS = told.map((code) => events.find((event) => event.code === code)?.timeS).find((atS) => atS != null);
  if (lostS != null && header.drawn.powerFraction === 0) {
    const restoredS = events.find((event) => event.code === 'restored')?.timeS ?? Number.POSITIVE_INFINITY;
    const within = (atS: number) => atS >= lostS + EVENT_SETTLE_S && atS < restoredS;
    return { from: 'events' as const, dead: (i: number) => within(timeS[i] as number) };
  }
  return { from: 'assumed' as const, dead: () => ranged };
}
