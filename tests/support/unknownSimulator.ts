// A simulator in a format that no ready profile has: semicolons, decimal comma, metres, m/s, radians; it obeys two words.
import { createSocket } from 'node:dgram';
import type { Sample } from '@stillprop/contracts';
import { shelfBundle } from './flownRecording.js';

const EVERY_MS = 20;
const M_PER_FT = 0.3048;
const MPS_PER_KT = 1852 / 3600;
const RAD_PER_DEG = Math.PI / 180;
const FT_PER_DEG_LATITUDE = 60 * (1852 / M_PER_FT);
/** On the runway, in level flight, or in an attempt from the take-off on. */
type Doing = 'stand' | 'bank-left' | 'take-off';

/** Its columns, from 0, as it sends them. */
export const COLUMNS = {
  timeS: 0,
  latitudeDeg: 1,
  longitudeDeg: 2,
  altitudeFt: 3,
  indicatedAirspeedKt: 4,
  headingDeg: 5,
  bankDeg: 6,
  pitchDeg: 7,
  verticalSpeedFpm: 8,
  powerFraction: 9,
} as const;

export interface UnknownSimulator {
  readonly commandPort: number;
  readonly commands: string[];
  /** Height above the runway when the power fell, ft; null: it never did. */
  powerFellAtFt: number | null;
  do(what: Doing): void;
  sample(): Sample;
  close(): void;
}

/** Starts sending to a port of this computer. `speed`: simulator seconds in one of the clock. */
export async function unknownSimulator(port: number, speed: number): Promise<UnknownSimulator> {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  const { runway } = shelfBundle('first-turn-back');
  const start = runway.start;
  if (start === undefined) throw new Error('the scenario has no place to start from');
  const headingRad = runway.headingTrueDeg * RAD_PER_DEG;
  const state = { timeS: 0, heightFt: 0, speedKt: 0, climbFpm: 0, bankDeg: 0, alongFt: 0, power: 1 };
  let doing: Doing = 'stand';

  const simulator: UnknownSimulator = {
    commandPort: socket.address().port,
    commands: [],
    powerFellAtFt: null,
    do: (what) => {
      doing = what;
    },
    sample: () => ({
      timeS: state.timeS,
      latitudeDeg: start.latitudeDeg + (state.alongFt * Math.cos(headingRad)) / FT_PER_DEG_LATITUDE,
      longitudeDeg:
        start.longitudeDeg +
        (state.alongFt * Math.sin(headingRad)) / FT_PER_DEG_LATITUDE / Math.cos(start.latitudeDeg * RAD_PER_DEG),
      altitudeFt: runway.elevationFt + state.heightFt,
      indicatedAirspeedKt: state.speedKt,
      headingDeg: runway.headingTrueDeg,
      bankDeg: state.bankDeg,
      pitchDeg: state.heightFt > 0 ? 6 : 1,
      verticalSpeedFpm: state.climbFpm,
      powerFraction: state.power,
    }),
    close: () => {
      clearInterval(timer);
      socket.close();
    },
  };
  const step = (stepS: number) => {
    state.timeS += stepS;
    state.bankDeg = doing === 'bank-left' ? Math.max(-20, state.bankDeg - 20 * stepS) : 0;
    if (doing !== 'take-off') return;
    state.alongFt += ((state.speedKt * MPS_PER_KT) / M_PER_FT) * stepS;
    if (state.heightFt === 0 && (state.power === 0 || state.speedKt < 70)) {
      state.climbFpm = 0;
      state.speedKt = Math.max(0, Math.min(74, state.speedKt + (state.power > 0 ? 12 : -8) * stepS));
      return;
    }
    const aimFpm = state.power > 0 ? 900 : -1200;
    state.climbFpm += Math.max(-900 * stepS, Math.min(900 * stepS, aimFpm - state.climbFpm));
    state.heightFt = Math.max(0, state.heightFt + (state.climbFpm / 60) * stepS);
  };
  const timer = setInterval(() => {
    step((EVERY_MS / 1000) * speed);
    socket.send(line(simulator.sample()), port, '127.0.0.1');
  }, EVERY_MS);
  socket.on('message', (bytes) => {
    const text = String(bytes);
    simulator.commands.push(text);
    if (text === 'ENGINE OFF') {
      state.power = 0;
      simulator.powerFellAtFt = state.heightFt;
    }
    if (text === 'ENGINE ON') state.power = 1;
  });
  return simulator;
}

function line(sample: Sample): string {
  const numbers = [
    sample.timeS.toFixed(3),
    (sample.latitudeDeg * RAD_PER_DEG).toFixed(10),
    (sample.longitudeDeg * RAD_PER_DEG).toFixed(10),
    (sample.altitudeFt * M_PER_FT).toFixed(3),
    (sample.indicatedAirspeedKt * MPS_PER_KT).toFixed(3),
    (sample.headingDeg * RAD_PER_DEG).toFixed(5),
    (sample.bankDeg * RAD_PER_DEG).toFixed(5),
    (sample.pitchDeg * RAD_PER_DEG).toFixed(5),
    ((sample.verticalSpeedFpm * M_PER_FT) / 60).toFixed(4),
    String(sample.powerFraction ?? ''),
  ];
  return `${numbers.join(';').replaceAll('.', ',')}\n`;
}
