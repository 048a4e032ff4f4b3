// Recordings made from a known schedule: every figure that the score is to find is put in here by construction.
import { fromRunwayFrame, isPlaced, type Recording, type Sample, type ScenarioBundle } from '@stillprop/contracts';
import { headerOf } from './shelf.fixture.js';

const FT_S_PER_KT = 1852 / 3600 / 0.3048;
const RAD = Math.PI / 180;
const G_FT_S2 = 9.80665 / 0.3048;
const STEP_S = 0.01;

export interface Schedule {
  readonly rateHz: number;
  readonly failAtFt: number;
  readonly delayS: number;
  /** Bank in the turn, to the right. */
  readonly bankDeg: number;
  readonly rollRateDegS: number;
  readonly climbKt: number;
  /** Speed held from a few seconds after the first action. */
  readonly speedKt: number;
  /** Where it touches down: from brake release, right positive. */
  readonly alongFt: number;
  readonly acrossFt: number;
  readonly sinkFpm: number;
  readonly contactBankDeg: number;
  /** Turned before rolling level; the alignment turn takes back what is beyond 180. */
  readonly turnDeg: number;
  readonly ahead: boolean;
  /** Nose stays where the slowing aeroplane puts it, only bank is used. */
  readonly bankOnly: boolean;
}
export const PLAIN: Schedule = {
  rateHz: 20,
  failAtFt: 1000,
  delayS: 3,
  bankDeg: 45,
  rollRateDegS: 30,
  climbKt: 92,
  speedKt: 85,
  alongFt: 3900,
  acrossFt: 4,
  sinkFpm: 150,
  contactBankDeg: 0,
  turnDeg: 205,
  ahead: false,
  bankOnly: false,
};

/** The truths that follow from a schedule. */
export interface Truth {
  readonly liftOffS: number;
  readonly lossS: number;
  readonly actionS: number;
  readonly contactS: number;
}

const CLIMB_FPM = 1300;
const LIFT_OFF_S = 12;
const ROLL_KT_PER_S = 7;
const DELAY_KT_LOST_PER_S = 3;
const PUSH_S = 2;
const FLARE_S = 4;

/** A recording of a schedule over a bundle's runway, and the truth about it. */
export function syntheticRecording(
  bundle: ScenarioBundle,
  changes: Partial<Schedule> = {},
): { recording: Recording; truth: Truth } {
  const plan = { ...PLAIN, ...changes };
  const { runway } = bundle;
  if (!isPlaced(runway)) throw new Error('needs a runway with a position');
  const lossS = LIFT_OFF_S + plan.failAtFt / (CLIMB_FPM / 60);
  const actionS = lossS + plan.delayS;
  const path = fly(plan, lossS, actionS);
  const contactS = path.contactS;
  const touch = path.at(contactS);
  const endS = contactS + 20;
  const samples: Sample[] = [];
  // Samples fall off the round seconds, so that no event meets one by luck.
  for (let k = 0; 0.0137 + k / plan.rateHz <= endS; k++) {
    const timeS = 0.0137 + k / plan.rateHz;
    const now = path.at(timeS);
    const place = { alongFt: now.x - touch.x + plan.alongFt, acrossFt: now.y - touch.y + plan.acrossFt };
    const onGround = timeS < LIFT_OFF_S || timeS >= contactS;
    const heightFt = onGround ? 0 : now.heightFt;
    samples.push({
      timeS,
      ...fromRunwayFrame(runway, place),
      altitudeFt: heightFt + runway.elevationFt,
      heightFt,
      indicatedAirspeedKt: now.speedKt,
      trueAirspeedKt: now.speedKt,
      groundspeedKt: now.speedKt,
      headingDeg: (((runway.headingTrueDeg + now.headingDeg) % 360) + 360) % 360,
      bankDeg: now.bankDeg,
      pitchDeg: now.pitchDeg,
      verticalSpeedFpm: onGround ? 0 : now.verticalFpm,
      loadFactor: now.loadFactor,
      powerFraction: timeS < lossS ? 1 : Math.exp(-(timeS - lossS) / 0.5),
      gearFraction: timeS < LIFT_OFF_S + 3 || timeS > contactS - 12 ? 1 : 0,
      onGround,
      stallWarning: false,
    });
  }
  const recording: Recording = {
    // Airspeed and heading are the way over the ground: it is flown in still air, and the day is told so.
    header: headerOf({ ...bundle, weather: { ...bundle.weather, winds: [] } }, { heightFt: plan.failAtFt }),
    samples,
    events: [{ kind: 'event', timeS: lossS - 0.02, code: 'fail-commanded', text: 'The engine was told to fail.' }],
    end: { kind: 'end', timeS: endS, reason: 'stopped', text: 'Stopped.', samples: samples.length },
  };
  return { recording, truth: { liftOffS: LIFT_OFF_S, lossS, actionS, contactS } };
}

interface Moment {
  x: number;
  y: number;
  headingDeg: number;
  heightFt: number;
  speedKt: number;
  bankDeg: number;
  pitchDeg: number;
  verticalFpm: number;
  loadFactor: number;
}

/** Steps speed, bank, heading and place through the schedule; heights are laid so that the flare ends at the ground. */
function fly(plan: Schedule, lossS: number, actionS: number): { contactS: number; at(timeS: number): Moment } {
  const rows: Moment[] = [];
  let x = 0;
  let y = 0;
  let heading = 0;
  let bank = 0;
  let speed = 0;
  let phase: 'turn' | 'straight' | 'align' | 'final' | 'level' = 'turn';
  let straightFromS = 0;
  let finalFromS = plan.ahead ? actionS + 15 : Number.POSITIVE_INFINITY;
  for (let i = 0; i * STEP_S < finalFromS + 8 + FLARE_S + 25; i++) {
    const t = i * STEP_S;
    if (t < LIFT_OFF_S) speed = Math.min(ROLL_KT_PER_S * t, plan.climbKt);
    else if (t < Math.min(lossS, actionS)) speed = plan.climbKt;
    else if (t < actionS) speed = plan.climbKt - DELAY_KT_LOST_PER_S * Math.min(t - lossS, 4);
    else speed += STEP_S * (plan.speedKt - speed);
    if (t > finalFromS + 8 + FLARE_S) speed = Math.max(0, speed - 6 * STEP_S * (t - finalFromS - 8 - FLARE_S));
    let command = 0;
    if (t >= actionS && !plan.ahead) {
      const rollOut = (size: number) =>
        (((size * size) / (2 * plan.rollRateDegS)) * (G_FT_S2 * Math.tan((size * RAD) / 2))) /
        (speed * FT_S_PER_KT) /
        RAD /
        (size / 2);
      if (phase === 'turn' && heading >= plan.turnDeg - rollOut(plan.bankDeg)) {
        phase = 'straight';
        straightFromS = t;
      }
      if (phase === 'straight' && t >= straightFromS + 6) phase = 'align';
      if (phase === 'align' && heading <= 180 + rollOut(25)) {
        phase = 'final';
        finalFromS = t + 1.5;
      }
      command = phase === 'turn' ? plan.bankDeg : phase === 'align' ? -25 : 0;
    }
    if (plan.contactBankDeg !== 0 && t > finalFromS + 8 + FLARE_S - 2) command = plan.contactBankDeg;
    const step = plan.rollRateDegS * STEP_S;
    if (t >= actionS) bank += Math.max(-step, Math.min(step, command - bank));
    if (speed > 20 && t < finalFromS + 8 + FLARE_S)
      heading += ((G_FT_S2 * Math.tan(bank * RAD)) / (speed * FT_S_PER_KT) / RAD) * STEP_S;
    if (phase === 'final' && t >= finalFromS) heading = 180;
    x += speed * FT_S_PER_KT * Math.cos(heading * RAD) * STEP_S;
    y += speed * FT_S_PER_KT * Math.sin(heading * RAD) * STEP_S;
    rows.push({
      x,
      y,
      headingDeg: heading,
      heightFt: 0,
      speedKt: speed,
      bankDeg: bank,
      pitchDeg: 0,
      verticalFpm: 0,
      loadFactor: 1,
    });
  }
  const contactS = finalFromS + 8 + FLARE_S;
  layHeights(plan, rows, lossS, actionS, contactS);
  return {
    contactS,
    at(timeS) {
      const from = Math.min(Math.floor(timeS / STEP_S), rows.length - 2);
      const share = Math.min(timeS / STEP_S - from, 1);
      const a = rows[from] as Moment;
      const b = rows[from + 1] as Moment;
      const blend = (key: keyof Moment) => a[key] + share * (b[key] - a[key]);
      return {
        x: blend('x'),
        y: blend('y'),
        headingDeg: blend('headingDeg'),
        heightFt: blend('heightFt'),
        speedKt: blend('speedKt'),
        bankDeg: blend('bankDeg'),
        pitchDeg: blend('pitchDeg'),
        verticalFpm: blend('verticalFpm'),
        loadFactor: blend('loadFactor'),
      };
    },
  };
}

/**
 * Heights and attitudes. Hands off in the delay: the lift goes with the square of the speed, the path bends with what
 * is missing. Then a push of 2 s to the sink that just reaches the flare, held, and a flare of 4 s to the sink planned.
 */
function layHeights(plan: Schedule, rows: Moment[], lossS: number, actionS: number, contactS: number): void {
  let height = 0;
  let attack = 0;
  let path = 0;
  let sinkFpm = 0;
  let startFpm = CLIMB_FPM;
  for (let i = 0; i < rows.length; i++) {
    const t = i * STEP_S;
    const row = rows[i] as Moment;
    const speedFtS = Math.max(row.speedKt * FT_S_PER_KT, 30);
    const before = path;
    if (t >= lossS && t < actionS) {
      const load =
        Math.cos(Math.asin(CLIMB_FPM / 60 / (plan.climbKt * FT_S_PER_KT))) * (row.speedKt / plan.climbKt) ** 2;
      path += (G_FT_S2 / speedFtS) * (load - Math.cos(path)) * STEP_S;
      startFpm = speedFtS * Math.sin(path) * 60;
      row.verticalFpm = startFpm;
      row.loadFactor = load;
    } else {
      if (sinkFpm === 0 && t >= actionS) sinkFpm = sinkToReach(plan, height, startFpm, contactS - actionS);
      row.verticalFpm = verticalAt(t);
      path = Math.asin(row.verticalFpm / 60 / speedFtS);
      const rate = t > LIFT_OFF_S + 2 && t < contactS ? (path - before) / STEP_S : 0;
      row.loadFactor =
        t < LIFT_OFF_S || t > contactS
          ? 1
          : (Math.cos(path) + (speedFtS * rate) / G_FT_S2) / Math.cos(row.bankDeg * RAD);
    }
    row.heightFt = height;
    height += (row.verticalFpm / 60) * STEP_S;
    const wanted = row.speedKt < 40 ? 0 : -3 + 11 * row.loadFactor * (80 / row.speedKt) ** 2;
    attack += (wanted - attack) * (STEP_S / 0.2);
    row.pitchDeg = t < LIFT_OFF_S || t > contactS ? 0 : path / RAD + attack;
  }
  function verticalAt(t: number): number {
    if (t < LIFT_OFF_S || t >= contactS) return 0;
    if (t < actionS) return CLIMB_FPM;
    const since = t - actionS;
    if (since < PUSH_S) return startFpm - ((startFpm + sinkFpm) * since) / PUSH_S;
    if (t < contactS - FLARE_S) return -sinkFpm;
    return -sinkFpm + ((sinkFpm - plan.sinkFpm) * (t - contactS + FLARE_S)) / FLARE_S;
  }
}

/** Sink s with heightFt + PUSH_S·(startFpm - s)/2/60 - s·glide/60 - FLARE_S·(s + sinkFpm)/2/60 = 0. */
function sinkToReach(plan: Schedule, heightFt: number, startFpm: number, restS: number): number {
  const glideS = restS - FLARE_S - PUSH_S;
  return (60 * heightFt + (PUSH_S * startFpm) / 2 - (FLARE_S * plan.sinkFpm) / 2) / (PUSH_S / 2 + glideS + FLARE_S / 2);
}
/** Seeded noise of roughly normal spread (sum of four uniform draws). */
export function noise(seed: number): () => number {
  let state = seed >>> 0 || 1;
  const draw = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 2 ** 32 - 0.5;
  };
  return () => (draw() + draw() + draw() + draw()) * Math.sqrt(3);
}

/** The same recording through a worse link: noise on what is measured, samples lost. */
export function degraded(
  recording: Recording,
  seed: number,
  { noisy = true, dropShare = 0.05 }: { noisy?: boolean; dropShare?: number } = {},
): Recording {
  const normal = noise(seed);
  const drop = noise(seed + 77);
  const size = noisy ? 1 : 0;
  const samples = recording.samples
    .filter(() => Math.abs(drop()) > dropShare * 1.2) // about 5 % of draws lie within 0.06 of the middle
    .map(
      (sample): Sample => ({
        ...sample,
        indicatedAirspeedKt: sample.indicatedAirspeedKt + size * 0.7 * normal(),
        bankDeg: sample.bankDeg + size * 0.5 * normal(),
        pitchDeg: sample.pitchDeg + size * 0.3 * normal(),
        headingDeg: sample.headingDeg + size * 0.5 * normal(),
        verticalSpeedFpm: sample.onGround ? 0 : sample.verticalSpeedFpm + size * 20 * normal(),
        loadFactor: (sample.loadFactor ?? 1) + size * 0.02 * normal(),
      }),
    );
  return { ...recording, samples };
}
