// A recording as columns: time ascending, holes filled between samples, what is missing throughout left null.
import { isPlaced, type Recording, type RunwayPosition, type Sample, toRunwayFrame } from '@stillprop/contracts';
import { believedFlag, believedHeight } from './believedGround.js';
import { cleanSamples } from './cleanSamples.js';
import { indexAt, smoothed, valueAt } from './columns.js';
import { loadFactorFromPath, stallSpeedKt, trueAirspeedKt } from './derivedColumns.js';
import { failureEventS } from './failureEvent.js';
import { onGroundSamples } from './groundContact.js';

/** A channel counts as there when at least this share of the samples carries it. */
const COVERAGE = 0.5;
/** Bank, speed and sink are judged on means over ±0.25 s, so that noise is no fault. */
const SMOOTH_S = 0.25;

export interface Flight {
  readonly recording: Recording;
  readonly count: number;
  readonly timeS: Float64Array;
  /** Above the runway, or above the floor in practice at altitude. */
  readonly heightFt: Float64Array;
  readonly heightFrom: 'height' | 'altitude' | 'altitude above the floor';
  /** Above the ground beneath; it tells a contact and nothing else. */
  readonly heightAboveGroundFt: Float64Array | null;
  readonly iasKt: Float64Array;
  /** Recorded, or from indicated airspeed and the day's air; the indicated one where that air cannot be computed. */
  readonly tasKt: Float64Array;
  readonly tasFrom: 'recorded' | 'computed' | 'indicated';
  readonly bankDeg: Float64Array;
  readonly bankSmoothDeg: Float64Array;
  readonly pitchDeg: Float64Array;
  /** Unwrapped: no step at north. */
  readonly headingDeg: Float64Array;
  readonly verticalSpeedFpm: Float64Array;
  readonly loadFactor: Float64Array;
  readonly loadFactorFrom: 'recorded' | 'estimated';
  /** Stall speed at the load factor then flown (kt indicated); NaN where the wing carries nothing. */
  readonly stallKt: Float64Array;
  readonly powerFraction: Float64Array | null;
  readonly engineRpm: Float64Array | null;
  readonly gearFraction: Float64Array | null;
  readonly flapFraction: Float64Array | null;
  readonly groundspeedKt: Float64Array | null;
  readonly trackDeg: Float64Array | null;
  readonly onGround: Uint8Array | null;
  readonly stallWarning: Uint8Array | null;
  /** Whether positions can be placed on the runway. */
  readonly placed: boolean;
  /** Place in the runway frame at a time; null when the runway has no position. */
  place(atS: number): RunwayPosition | null;
}

/** What the exercise set aside of the heights told while the aeroplane stood, so that both count from the same ground. */
function heightsCountedFrom(events: Recording['events']): { heightAside: boolean; zeroAltitudeFt: number | null } {
  const figures = events.findLast(({ code, figures: { heightAside, zeroAltitudeFt } = {} }) => {
    return code === 'data-fault' && (heightAside !== undefined || zeroAltitudeFt !== undefined);
  })?.figures;
  return { heightAside: figures?.heightAside === 1, zeroAltitudeFt: figures?.zeroAltitudeFt ?? null };
}

/** Columns of a recording. */
export function flightOf(recording: Recording): Flight {
  const { runway, scenario, weather, aircraft } = recording.header;
  const samples = cleanSamples(recording.samples, failureEventS(recording));
  const timeS = Float64Array.from(samples, (sample) => sample.timeS);
  const column = (key: keyof Sample) => filled(timeS, samples, key);
  const required = (key: keyof Sample) => column(key) ?? new Float64Array(samples.length);
  const { practice } = scenario;
  const { heightAside, zeroAltitudeFt } = heightsCountedFrom(recording.events);
  const recordedHeight = practice.from === 'runway' && !heightAside ? column('heightFt') : null;
  const zeroFt = practice.from === 'floor' ? practice.floorAltitudeFt : (zeroAltitudeFt ?? runway.elevationFt);
  const heightFt = recordedHeight ?? required('altitudeFt').map((altitude) => altitude - zeroFt);
  const iasKt = required('indicatedAirspeedKt');
  const aboveRunwayFt =
    practice.from === 'floor' ? required('altitudeFt').map((altitude) => altitude - runway.elevationFt) : heightFt;
  const recordedTas = column('trueAirspeedKt');
  const computedTas = recordedTas ?? trueAirspeedKt(iasKt, aboveRunwayFt, weather, runway.elevationFt);
  const tasKt = computedTas ?? iasKt;
  const bankDeg = required('bankDeg');
  const verticalSpeedFpm = required('verticalSpeedFpm');
  const recordedLoad = column('loadFactor');
  const heightAboveGroundFt = believedHeight(column('heightAboveGroundFt'), heightFt);
  const onGround = believedFlag(flags(samples, 'onGround'), heightFt);
  const down = onGroundSamples({ recording, count: samples.length, timeS, heightFt, heightAboveGroundFt, onGround });
  const loadFactor = recordedLoad ?? loadFactorFromPath(timeS, tasKt, verticalSpeedFpm, bankDeg, down);
  const flapFraction = column('flapFraction');
  return {
    recording,
    count: samples.length,
    timeS,
    heightFt,
    heightFrom:
      practice.from === 'floor' ? 'altitude above the floor' : recordedHeight === null ? 'altitude' : 'height',
    heightAboveGroundFt,
    iasKt,
    tasKt,
    tasFrom: recordedTas !== null ? 'recorded' : computedTas === null ? 'indicated' : 'computed',
    bankDeg,
    bankSmoothDeg: smoothed(timeS, bankDeg, SMOOTH_S),
    pitchDeg: required('pitchDeg'),
    headingDeg: unwrapped(required('headingDeg')),
    verticalSpeedFpm,
    loadFactor,
    loadFactorFrom: recordedLoad === null ? 'estimated' : 'recorded',
    stallKt: stallSpeedKt(aircraft, smoothed(timeS, loadFactor, SMOOTH_S / 2), flapFraction),
    powerFraction: column('powerFraction'),
    engineRpm: column('engineRpm'),
    gearFraction: column('gearFraction'),
    flapFraction,
    groundspeedKt: column('groundspeedKt'),
    trackDeg: filledDirection(timeS, samples),
    onGround,
    stallWarning: flags(samples, 'stallWarning'),
    placed: isPlaced(runway),
    place: placer(recording, samples, timeS),
  };
}

/** Mean of a column over ±`halfS` about a time, for figures that should not hang on one sample. */
export function meanAround(flight: Flight, column: Float64Array, atS: number, halfS: number): number {
  const first = Math.max(indexAt(flight.timeS, atS - halfS), 0);
  let sum = 0;
  let count = 0;
  for (let i = first; i < flight.count && (flight.timeS[i] as number) <= atS + halfS; i++) {
    if ((flight.timeS[i] as number) < atS - halfS) continue;
    sum += column[i] as number;
    count++;
  }
  return count === 0 ? valueAt(flight.timeS, column, atS) : sum / count;
}

/** A channel with its holes filled linearly between samples; null when too few samples carry it. */
function filled(timeS: Float64Array, samples: readonly Sample[], key: keyof Sample): Float64Array | null {
  const count = samples.length;
  // Plain loops: every recording passes through here, channel by channel.
  const times = new Float64Array(count);
  const values = new Float64Array(count);
  let present = 0;
  for (let i = 0; i < count; i++) {
    const value = (samples[i] as Sample)[key];
    if (typeof value !== 'number') continue;
    times[present] = timeS[i] as number;
    values[present] = value;
    present++;
  }
  if (present === 0 || present < COVERAGE * count) return null;
  if (present === count) return values;
  const [knownS, known] = [times.subarray(0, present), values.subarray(0, present)];
  return timeS.map((atS) => valueAt(knownS, known, atS));
}

/** Tracks through their unit vectors, so that a hole across north is filled the short way round. */
function filledDirection(timeS: Float64Array, samples: readonly Sample[]): Float64Array | null {
  const withTrack = samples.filter((sample) => sample.trackDeg !== undefined);
  if (withTrack.length === 0 || withTrack.length < COVERAGE * samples.length) return null;
  const times = Float64Array.from(withTrack, (sample) => sample.timeS);
  const values = unwrapped(Float64Array.from(withTrack, (sample) => sample.trackDeg as number));
  return timeS.map((atS) => valueAt(times, values, atS));
}

function flags(samples: readonly Sample[], key: 'onGround' | 'stallWarning'): Uint8Array | null {
  const told = samples.filter((sample) => sample[key] !== undefined).length;
  if (told === 0 || told < COVERAGE * samples.length) return null;
  let last = samples.find((sample) => sample[key] !== undefined)?.[key] ?? false;
  const result = new Uint8Array(samples.length);
  for (const [i, sample] of samples.entries()) {
    last = sample[key] ?? last; // a state holds until something else is told
    result[i] = last ? 1 : 0;
  }
  return result;
}

function unwrapped(headingDeg: Float64Array): Float64Array {
  const result = new Float64Array(headingDeg.length);
  for (let i = 0; i < headingDeg.length; i++) {
    const raw = headingDeg[i] as number;
    const previous = i === 0 ? raw : (result[i - 1] as number);
    result[i] = raw - 360 * Math.round((raw - previous) / 360);
  }
  return result;
}

function placer(recording: Recording, samples: readonly Sample[], timeS: Float64Array) {
  const { runway } = recording.header;
  if (!isPlaced(runway) || samples.length === 0) return () => null;
  const known = new Map<number, RunwayPosition>();
  const placeOf = (index: number): RunwayPosition => {
    let place = known.get(index);
    if (place === undefined) {
      const sample = samples[index] as Sample;
      place = toRunwayFrame(runway, sample.latitudeDeg, sample.longitudeDeg);
      known.set(index, place);
    }
    return place;
  };
  return (atS: number): RunwayPosition => {
    const before = Math.max(indexAt(timeS, atS), 0);
    const from = placeOf(before);
    if (before + 1 >= samples.length || atS <= (timeS[before] as number)) return from;
    const to = placeOf(before + 1);
    const share = (atS - (timeS[before] as number)) / ((timeS[before + 1] as number) - (timeS[before] as number));
    return {
      alongFt: from.alongFt + share * (to.alongFt - from.alongFt),
      acrossFt: from.acrossFt + share * (to.acrossFt - from.acrossFt),
    };
  };
}
