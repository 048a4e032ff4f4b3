// Glides of a known aeroplane as recordings: flown by the physics package from a height, with instruments as noisy as asked.
import { readFileSync } from 'node:fs';
import {
  type Aircraft,
  type DrawnFailure,
  fromRunwayFrame,
  isPlaced,
  type RecordedEvent,
  type Recording,
  type Runway,
  type Sample,
  type ScenarioBundle,
  type Weather,
} from '@stillprop/contracts';
import {
  FlightSimulation,
  M_PER_FT,
  MPS_PER_KT,
  RAD_PER_DEG,
  type RandomSource,
  randomSource,
  stateIndex,
  trueFromCalibrated,
} from '@stillprop/physics';

const shelf = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/${name}.json`, import.meta.url), 'utf8'));

export const TURNSTONE: Aircraft = shelf('aircraft/turnstone');
export const WHEATEAR: Aircraft = shelf('aircraft/wheatear');
const RUNWAY: Runway = shelf('runways/quarry-moor-24');
const CALM: Weather = { temperatureC: 15, qnhHpa: 1013.25, winds: [] };

/** What the pilot holds from a time on (s since the glide began). */
export interface Hold {
  readonly fromS: number;
  readonly kcas: number;
  readonly bankDeg: number;
}

/** Standard deviations of what the instruments say. */
export interface Noise {
  readonly altitudeFt: number;
  readonly airspeedKt: number;
  readonly bankDeg: number;
  readonly loadFactor: number;
  readonly positionM: number;
}

export const USUAL_NOISE: Noise = { altitudeFt: 3, airspeedKt: 0.7, bankDeg: 0.5, loadFactor: 0.02, positionM: 0.3 };

export interface GlideFlown {
  /** The aeroplane that really flies. */
  readonly flown: Aircraft;
  /** The aircraft file in the recording; the one flown when absent. */
  readonly file?: Aircraft;
  readonly propeller?: DrawnFailure['propeller'];
  readonly weather?: Weather;
  /** Weather the recording tells of; that flown in when absent. */
  readonly toldWeather?: Weather;
  readonly startFt?: number;
  readonly lastsS?: number;
  readonly holds: readonly Hold[];
  readonly rateHz?: number;
  readonly noise?: Noise;
  readonly seed?: number;
  /** Wind at 20 ft that the turbulence belongs to (kt). */
  readonly gustsOfKt?: number;
  readonly without?: readonly (keyof Sample)[];
  readonly events?: readonly RecordedEvent[];
}

/** Flies the holds one after the other, engine dead from the start, sampled until the time or the ground. */
export function glideRecording(glide: GlideFlown): Recording {
  const { flown, holds, weather = CALM, propeller = 'coarse', seed = 1, rateHz = 20, lastsS = 90 } = glide;
  const turbulence = glide.gustsOfKt === undefined ? undefined : { windAt20FtKt: glide.gustsOfKt, seed };
  const runway = RUNWAY;
  if (!isPlaced(runway)) throw new Error('the runway needs a position');
  const simulation = new FlightSimulation(
    { aircraft: flown, runway, weather, climbKcas: flown.bestGlideKcas, turbulence },
    1, // resistance of a take-off run nobody makes
  );
  const { state, model } = simulation;
  const heightM = (glide.startFt ?? 2500) * M_PER_FT;
  const tasMps = trueFromCalibrated((holds[0] as Hold).kcas * MPS_PER_KT, model.air.densityKgM3(heightM));
  const wind = new Float64Array(2);
  model.wind.sample(heightM, wind);
  simulation.onGround = false;
  simulation.flown = true;
  simulation.setEngine({ powerFraction: 0, propeller });
  state[stateIndex.H] = heightM;
  state[stateIndex.VX] = tasMps + (wind[0] as number);
  state[stateIndex.VY] = wind[1] as number;
  state[stateIndex.VH] = -tasMps / flown.bestGlideRatio;
  state[stateIndex.POWER] = 0;
  model.observe(state);
  state[stateIndex.LIFT] = model.plane.weightN / model.pressureAreaN;
  const random = randomSource(seed);
  const samples: Sample[] = [];
  const steps = Math.round(100 / rateHz);
  for (let step = 0; step * 0.01 < lastsS && !simulation.onGround; step++) {
    if (step % steps === 0) samples.push(sampleOf(simulation, runway, random, glide));
    const hold = holds.findLast(({ fromS }) => fromS <= step * 0.01) as Hold;
    simulation.step(0.01, {
      bankRad: hold.bankDeg * RAD_PER_DEG,
      pitch: { kind: 'speed', kcas: hold.kcas, stallMargin: 1.05, minimumLoadFactor: 0.5 },
      gearDown: false,
      flapDown: false,
      brake: 0,
      slipDrag: 0,
    });
  }
  const scenario: ScenarioBundle['scenario'] = shelf('scenarios/first-turn-back');
  return {
    header: {
      kind: 'header',
      format: 'stillprop-recording',
      version: 1,
      attemptId: '7b0f6a52-1d7e-4c1f-9a58-2f6a0c3e9d11',
      startedAt: '2026-01-31T09:30:00Z',
      station: 'Station 1',
      student: null,
      scenario: { ...scenario, practice: { from: 'runway' } },
      aircraft: glide.file ?? flown,
      runway,
      weather: glide.toldWeather ?? weather,
      rubric: shelf('rubrics/standard'),
      drawn: { kind: 'total', heightFt: 2500, powerFraction: 0, propeller },
      link: 'stand-in-json',
    },
    samples,
    events: glide.events ?? [],
    end: null,
  };
}

function sampleOf(
  simulation: FlightSimulation,
  runway: Runway & { readonly start: NonNullable<Runway['start']> },
  random: RandomSource,
  { noise, without = [] }: GlideFlown,
): Sample {
  const at = simulation.read();
  const off = (deviation: number | undefined) => (deviation === undefined ? 0 : deviation * random.normal());
  const place = fromRunwayFrame(runway, {
    alongFt: at.xFt + off(noise?.positionM) / M_PER_FT,
    acrossFt: at.yFt + off(noise?.positionM) / M_PER_FT,
  });
  const speedOff = off(noise?.airspeedKt);
  const sample: Sample = {
    timeS: at.timeS,
    ...place,
    altitudeFt: at.heightFt + runway.elevationFt + off(noise?.altitudeFt),
    indicatedAirspeedKt: at.kcas + speedOff,
    trueAirspeedKt: at.ktas + speedOff,
    groundspeedKt: at.groundspeedKt,
    trackDeg: at.trackDeg,
    headingDeg: at.headingDeg,
    bankDeg: at.bankDeg + off(noise?.bankDeg),
    pitchDeg: at.pitchDeg,
    verticalSpeedFpm: at.verticalSpeedFpm,
    loadFactor: at.loadFactor + off(noise?.loadFactor),
    powerFraction: at.powerFraction,
    gearFraction: at.gearFraction,
    flapFraction: at.flapFraction,
    onGround: at.onGround,
    stallWarning: at.stalled,
  };
  for (const key of without) delete sample[key];
  return sample;
}
