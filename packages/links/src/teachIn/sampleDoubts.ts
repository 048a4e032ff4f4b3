// What looks wrong in the samples that a profile makes: units and signs that do not agree with each other.
import type { LinkProfile } from '@stillprop/contracts';
import type { SamplePart } from '../partFromRow.js';
import type { ChannelName } from '../slotUnits.js';

const RAD_PER_DEG = Math.PI / 180;
const HALF_TURN_RAD = 3.15;
const FULL_TURN_RAD = 6.3;
const LEAST_TURN_DEG = 20;
/** Intervals over which slopes are taken: shorter ones hold the rounding of what was sent. */
const SLOPE_OVER_S = 2;
/** Climbed by so much, a height that moved by less than the other is no height. */
const CLIMBED_FT = 100;
const STUCK_FT = 5;
const FLYING_KT = 30;
const MOVING_FPM = 200;

/** How much two measures of one thing may differ before a unit is doubted: wind and rounding stay inside. */
const NEAR = 0.12;

/** Doubts in sentences; an empty list is no proof that all is right. */
export function sampleDoubts(profile: LinkProfile, samples: readonly SamplePart[], rateHz: number | null): string[] {
  if (samples.length < 10) return [];
  const pairs = steps(samples);
  return [
    ...rateDoubt(profile, rateHz),
    ...timeDoubt(samples),
    ...stuckDoubts(profile, samples),
    ...angleDoubts(profile, samples),
    ...bankSignDoubt(pairs),
    ...speedDoubt(pairs),
    ...climbDoubt(pairs),
  ];
}

function rateDoubt({ expectedRateHz }: LinkProfile, rateHz: number | null): string[] {
  if (rateHz === null || (rateHz > expectedRateHz / 1.5 && rateHz < expectedRateHz * 1.5)) return [];
  return [`${rateHz.toFixed(1)} samples a second came, and expectedRateHz is ${expectedRateHz}: set it to what comes.`];
}

function timeDoubt(samples: readonly SamplePart[]): string[] {
  const times = numbers(samples, 'timeS');
  const back = times.filter((timeS, at) => at > 0 && timeS < (times[at - 1] as number)).length;
  if (back > 0) return [`timeS goes back ${back} ${back === 1 ? 'time' : 'times'}: is it the simulator's own clock?`];
  return times.length > 1 && times[0] === times.at(-1)
    ? ['timeS stands still: is it paused, or is that slot no clock?']
    : [];
}

/** A height or a flag that stays as it is while the aeroplane climbs tells nothing, and would deny that it flies. */
function stuckDoubts({ channels }: LinkProfile, samples: readonly SamplePart[]): string[] {
  const climbedFt = spread(numbers(samples, 'altitudeFt'));
  if (!(climbedFt > CLIMBED_FT)) return [];
  const heights = (['heightFt', 'heightAboveGroundFt'] as const).flatMap((channel) => {
    const values = numbers(samples, channel);
    if (channels[channel] === undefined || values.length < 10 || spread(values) > STUCK_FT) return [];
    return [
      `${channel} stays near ${Math.round(values[0] ?? 0)} ft while altitudeFt changes by ${Math.round(climbedFt)} ft: is it that slot?`,
    ];
  });
  const ground = numbers(samples, 'onGround');
  const isStuck = channels.onGround !== undefined && ground.length >= 10 && ground.every((flag) => flag === 1);
  return isStuck ? [...heights, 'onGround says that it stands while altitudeFt changes: is it that slot?'] : heights;
}

function angleDoubts({ channels }: LinkProfile, samples: readonly SamplePart[]): string[] {
  const doubts: string[] = [];
  const inDegrees = (channel: ChannelName) => channels[channel]?.unit === 'deg';
  const turned = turnDeg(numbers(samples, 'headingDeg'));
  const bank = largest(numbers(samples, 'bankDeg'));
  const heading = numbers(samples, 'headingDeg');
  const headingInRadians =
    inDegrees('headingDeg') && heading.length > 0 && largest(heading) <= FULL_TURN_RAD && spread(heading) > 0.2;
  if (headingInRadians)
    doubts.push(`headingDeg stays within ${largest(heading).toFixed(2)} degrees of north: it looks like radians.`);
  const turns = turned > LEAST_TURN_DEG || (headingInRadians && turned > LEAST_TURN_DEG * RAD_PER_DEG);
  if (inDegrees('bankDeg') && turns && bank > 0 && bank <= HALF_TURN_RAD / 2) {
    doubts.push(
      `bankDeg never goes beyond ${bank.toFixed(2)} degrees although the heading turns: it looks like radians.`,
    );
  }
  const [latitude, longitude] = [numbers(samples, 'latitudeDeg'), numbers(samples, 'longitudeDeg')];
  if (
    inDegrees('latitudeDeg') &&
    inDegrees('longitudeDeg') &&
    latitude.length > 0 &&
    largest(latitude) <= HALF_TURN_RAD / 2 &&
    largest(longitude) <= HALF_TURN_RAD
  ) {
    doubts.push('latitudeDeg and longitudeDeg are so small that they look like radians.');
  }
  if (bank > 90) doubts.push(`bankDeg goes to ${Math.round(bank)} degrees: is that the bank?`);
  return doubts;
}

/** In a turn the wing on the inside is down. */
function bankSignDoubt(pairs: readonly Step[]): string[] {
  const turning = pairs.filter(({ turnRateDegS, bankDeg }) => Math.abs(turnRateDegS) > 1 && Math.abs(bankDeg) > 3);
  const against = turning.filter(({ turnRateDegS, bankDeg }) => Math.sign(turnRateDegS) !== Math.sign(bankDeg)).length;
  if (turning.length < 5 || against < 0.8 * turning.length) return [];
  return ['bankDeg is left where the heading turns right: turn its sign round with scale −1.'];
}

function speedDoubt(pairs: readonly Step[]): string[] {
  const ratios = pairs
    .filter(({ groundspeedKt }) => groundspeedKt > FLYING_KT)
    .map(({ airspeedKt, groundspeedKt }) => airspeedKt / groundspeedKt);
  return unitDoubt('indicatedAirspeedKt', 'the way over the ground', ratios, [
    ['m/s', 1852 / 3600],
    ['km/h', 1.852],
  ]);
}

function climbDoubt(pairs: readonly Step[]): string[] {
  const climbing = pairs.filter(({ climbFpm }) => Math.abs(climbFpm) > MOVING_FPM * 0.3);
  const ratios = climbing.map(({ verticalSpeedFpm, climbFpm }) => verticalSpeedFpm / climbFpm);
  const inMetres = unitDoubt(
    'altitudeFt',
    'the vertical speed',
    ratios.map((ratio) => 1 / ratio),
    [['m', 0.3048]],
  );
  if (inMetres.length > 0) return inMetres;
  const middle = median(ratios);
  if (middle !== null && Math.abs(middle + 1) < NEAR) {
    return ['verticalSpeedFpm is down where the altitude goes up: turn its sign round with scale −1.'];
  }
  return unitDoubt('verticalSpeedFpm', 'the change of altitude', ratios, [
    ['m/s', 0.3048 / 60],
    ['ft/s', 1 / 60],
    ['m/min', 0.3048],
  ]);
}

function unitDoubt(
  channel: ChannelName,
  against: string,
  ratios: readonly number[],
  units: readonly (readonly [string, number])[],
): string[] {
  const middle = median(ratios);
  if (middle === null) return [];
  const found = units.find(([, ratio]) => Math.abs(middle / ratio - 1) < NEAR);
  return found === undefined
    ? []
    : [`${channel} is ${middle.toPrecision(2)} times ${against}: it looks like ${found[0]}.`];
}

interface Step {
  readonly turnRateDegS: number;
  readonly bankDeg: number;
  readonly groundspeedKt: number;
  readonly airspeedKt: number;
  readonly climbFpm: number;
  readonly verticalSpeedFpm: number;
}

/** Slopes between samples some seconds apart, beside what was told at their middle. What is missing makes them NaN, which no test passes. */
function steps(samples: readonly SamplePart[]): Step[] {
  const found: Step[] = [];
  let from = samples[0];
  for (const to of samples) {
    const seconds = (to.timeS ?? Number.NaN) - (from?.timeS ?? Number.NaN);
    if (from === undefined || !(seconds >= 0)) {
      from = to;
      continue;
    }
    if (seconds < SLOPE_OVER_S) continue;
    const mean = (channel: ChannelName) =>
      (Number(from?.[channel] ?? Number.NaN) + Number(to[channel] ?? Number.NaN)) / 2;
    const change = (channel: ChannelName) => Number(to[channel] ?? Number.NaN) - Number(from?.[channel] ?? Number.NaN);
    const northNm = change('latitudeDeg') * 60;
    const eastNm = change('longitudeDeg') * 60 * Math.cos(mean('latitudeDeg') * RAD_PER_DEG);
    found.push({
      turnRateDegS: turn(change('headingDeg')) / seconds,
      bankDeg: mean('bankDeg'),
      groundspeedKt: (Math.hypot(northNm, eastNm) / seconds) * 3600,
      airspeedKt: mean('indicatedAirspeedKt'),
      climbFpm: (change('altitudeFt') / seconds) * 60,
      verticalSpeedFpm: mean('verticalSpeedFpm'),
    });
    from = to;
  }
  return found;
}

const numbers = (samples: readonly SamplePart[], channel: ChannelName) =>
  samples.flatMap((sample) => (sample[channel] === undefined ? [] : [Number(sample[channel])]));
const largest = (values: readonly number[]) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const spread = (values: readonly number[]) =>
  values.reduce((a, b) => Math.max(a, b), -Infinity) - values.reduce((a, b) => Math.min(a, b), Infinity);

function turn(degrees: number): number {
  return ((((degrees + 180) % 360) + 360) % 360) - 180;
}

/** The farthest that a heading gets from where it began, round the circle. */
function turnDeg(headings: readonly number[]): number {
  return largest(headings.map((heading) => turn(heading - (headings[0] ?? 0))));
}

function median(values: readonly number[]): number | null {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  return sorted.length < 5 ? null : (sorted[Math.floor(sorted.length / 2)] ?? null);
}
