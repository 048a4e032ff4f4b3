// A simulator in its own socket for the tests: takes off, climbs, obeys, lands; about twenty times faster than life.
import { createSocket } from 'node:dgram';
import type { Sample } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import { onTestFinished } from 'vitest';
import { demoBundle } from './testing.fixture.js';

const WALL_STEP_MS = 5;
/** Twenty times the wall step. On a busy machine time slows down instead of jumping. */
const STEP_S = 0.1;
const ROLL_S = 5;
const FT_PER_S_PER_KT = 1852 / 0.3048 / 3600;
const FT_PER_DEG = 60 * (1852 / 0.3048); // one minute of latitude is a nautical mile, near enough for a test

export interface FakeSimulator {
  readonly commandPort: number;
  /** Commands that came, in order. */
  readonly commands: string[];
  /** Height at which the power went (ft). */
  powerFellAtFt: number | null;
  obeys: boolean;
  /** The power goes without a command just now. */
  losePower(): void;
  /** Starts sending to a port, standing on the runway; it takes off when told to begin. */
  sendTo(port: number): void;
}

export async function fakeSimulator(): Promise<FakeSimulator> {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  let timer: NodeJS.Timeout | undefined;
  onTestFinished(() => {
    clearInterval(timer);
    socket.close();
  });
  const state = { timeS: 0, heightFt: 0, speedKt: 0, climbFpm: 0, power: 1, alongFt: 0, begun: false };
  const simulator: FakeSimulator = {
    commandPort: socket.address().port,
    commands: [],
    powerFellAtFt: null,
    obeys: true,
    losePower: () => {
      state.power = 0;
    },
    sendTo: (port) => {
      timer = setInterval(() => {
        step(state, STEP_S);
        socket.send(standInText(sampleOf(state)), port, '127.0.0.1');
      }, WALL_STEP_MS);
    },
  };
  socket.on('message', (bytes) => {
    const text = String(bytes);
    simulator.commands.push(text);
    if (text.startsWith('BEGIN')) {
      Object.assign(state, { timeS: 0, heightFt: 0, speedKt: 0, climbFpm: 0, power: 1, alongFt: 0, begun: true });
    }
    if (!simulator.obeys) return;
    if (text.startsWith('FAIL')) {
      state.power = 0;
      simulator.powerFellAtFt = state.heightFt;
    }
    if (text === 'RESTORE') state.power = 1;
  });
  return simulator;
}

interface Flown {
  timeS: number;
  heightFt: number;
  speedKt: number;
  climbFpm: number;
  power: number;
  alongFt: number;
  begun: boolean;
}

function step(state: Flown, stepS: number): void {
  state.timeS += stepS;
  if (!state.begun) return;
  if (state.heightFt > 0 || (state.power > 0 && state.timeS > ROLL_S)) {
    const aimFpm = state.power > 0 ? 1300 : -1500;
    state.climbFpm += Math.max(-1500 * stepS, Math.min(1500 * stepS, aimFpm - state.climbFpm));
    state.heightFt = Math.max(0, state.heightFt + (state.climbFpm / 60) * stepS);
  } else {
    state.climbFpm = 0;
    const gainKt = (state.power > 0 ? 90 / ROLL_S : -20) * stepS;
    state.speedKt = Math.max(0, Math.min(90, state.speedKt + gainKt));
  }
  state.alongFt += state.speedKt * FT_PER_S_PER_KT * stepS;
}

function sampleOf(state: Flown): Sample {
  const { runway } = demoBundle();
  const start = runway.start ?? { latitudeDeg: 0, longitudeDeg: 0 };
  return {
    timeS: state.timeS,
    latitudeDeg: start.latitudeDeg + state.alongFt / FT_PER_DEG,
    longitudeDeg: start.longitudeDeg,
    altitudeFt: runway.elevationFt + state.heightFt,
    heightFt: state.heightFt,
    indicatedAirspeedKt: state.speedKt,
    groundspeedKt: state.speedKt,
    headingDeg: 0,
    bankDeg: 0,
    pitchDeg: 5,
    verticalSpeedFpm: state.climbFpm,
    powerFraction: state.power,
    onGround: state.heightFt <= 0,
  };
}
