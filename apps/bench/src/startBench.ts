// The stand-in simulator as a program: commands in by UDP, samples out by UDP, in real time or faster.
import { createSocket, type Socket } from 'node:dgram';
import { bundleOf, type Catalogue, parseStandInCommand } from '@stillprop/contracts';
import { standInJson, standInText } from '@stillprop/links';
import { faultyWire, type WireFaults } from './faultyWire.js';
import { readShelf } from './shelfFiles.js';
import { StandInFlight, TICK_S } from './standInFlight.js';

const HOST = '127.0.0.1';
const TIMER_MS = 4;
/** Wall time made up for at once after this process was held up; more is let go (ms). */
const CATCH_UP_MS = 500;
const FAULT_SEED = 20_260_101;

export interface BenchOptions {
  /** Shelves with the scenarios it can fly; a later one takes the place of an earlier one. */
  readonly catalogueDirs: readonly string[];
  /** UDP port for commands, on loopback; 0: any. */
  readonly commandPort: number;
  readonly targets: readonly { readonly format: 'text' | 'json'; readonly host: string; readonly port: number }[];
  /** Samples a simulated second, 5 to 100. */
  readonly rateHz: number;
  readonly faults: WireFaults;
  readonly log: (line: string) => void;
}

export interface Bench {
  readonly commandPort: number;
  close(): Promise<void>;
}

/** Starts it parked at the first scenario's runway. @throws {Error} With one clear sentence if it cannot start. */
export async function startBench(options: BenchOptions): Promise<Bench> {
  const { rateHz, targets, log } = options;
  if (!(rateHz >= 5 && rateHz <= 100)) throw new RangeError(`rateHz must be 5 to 100, got ${rateHz}`);
  const shelf = readShelf(options.catalogueDirs);
  const bundles = [...shelf.scenarios.keys()].flatMap((id) => {
    const bundle = bundleOf(shelf, id);
    return bundle.ok && bundle.value.runway.start !== undefined ? [bundle.value] : [];
  });
  const first = bundles.find((bundle) => bundle.scenario.id === 'first-turn-back') ?? bundles[0];
  if (first === undefined)
    throw new Error('the stand-in needs at least one scenario whose runway has a start position');
  const flight = new StandInFlight(first);

  const out = createSocket('udp4');
  const wires = targets.map(({ format, host, port }, index) => ({
    encode: format === 'json' ? standInJson : standInText,
    // A refused datagram only says that nobody listens yet.
    send: faultyWire(options.faults, FAULT_SEED + index, (datagram) => out.send(datagram, port, host, () => {})),
  }));
  const commands = createSocket('udp4');
  commands.on('message', (bytes) => {
    const problem = obey(flight, shelf, new TextDecoder().decode(bytes));
    if (problem !== null) log(`stand-in: ${problem}`);
  });
  await bound(commands, options.commandPort);

  const sampleEveryS = 1 / rateHz;
  let last = performance.now();
  let owedS = 0;
  let toNextSampleS = 0;
  const timer = setInterval(() => {
    const now = performance.now();
    owedS += (Math.min(now - last, CATCH_UP_MS) / 1000) * flight.speed;
    last = now;
    while (owedS >= TICK_S) {
      owedS -= TICK_S;
      flight.tick();
      toNextSampleS -= TICK_S;
      if (toNextSampleS > TICK_S / 2) continue;
      toNextSampleS += sampleEveryS;
      const sample = flight.sample();
      for (const wire of wires) wire.send(wire.encode(sample));
    }
  }, TIMER_MS);

  return {
    commandPort: commands.address().port,
    close: async () => {
      clearInterval(timer);
      await Promise.all([closed(commands), closed(out)]);
    },
  };
}

/** Does what a command says; returns why not, or null. */
function obey(flight: StandInFlight, shelf: Catalogue, text: string): string | null {
  const parsed = parseStandInCommand(text);
  if (!parsed.ok) return parsed.problem.message;
  const command = parsed.value;
  try {
    if (command.word === 'BEGIN') {
      const bundle = bundleOf(shelf, command.scenario);
      if (!bundle.ok) return bundle.problem.message;
      flight.begin(bundle.value, command.pilot, command.seed, command.speed);
    } else flight.obey(command);
    return null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

function bound(socket: Socket, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    socket.once('error', (error: NodeJS.ErrnoException) =>
      reject(
        new Error(
          error.code === 'EADDRINUSE' ? `UDP port ${port} is in use: is a stand-in running already?` : String(error),
        ),
      ),
    );
    socket.bind(port, HOST, resolve);
  });
}

function closed(socket: Socket): Promise<void> {
  return new Promise((resolve) => {
    try {
      socket.close(() => resolve());
    } catch {
      resolve(); // never bound: nothing was sent yet
    }
  });
}
