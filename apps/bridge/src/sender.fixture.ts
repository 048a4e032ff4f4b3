// A thread that sends datagrams for the benches, so that sending and receiving do not take turns.
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';

/** Plain JavaScript: a thread does not take over the loader of TypeScript. */
const CODE = `
const { parentPort, workerData } = require('node:worker_threads');
const socket = require('node:dgram').createSocket('udp4');
const done = new Int32Array(workerData);
const tell = () => { Atomics.add(done, 0, 1); Atomics.notify(done, 0); };
const send = (bytes, port) => new Promise((resolve) => socket.send(bytes, port, '127.0.0.1', resolve));
const WORK = {
  async burst({ bytes, count, port }) {
    for (let i = 0; i < count; i += 1) await send(bytes, port);
    tell();
  },
  async pings({ messages, port }) {
    const tookMs = [];
    for (const bytes of messages) {
      const start = performance.now();
      const back = new Promise((resolve) => socket.once('message', resolve));
      socket.send(bytes, port, '127.0.0.1');
      await back;
      tookMs.push(performance.now() - start);
    }
    parentPort.postMessage(tookMs);
  },
  /** Round after round of messages, one for each port, at a steady rate by the clock. */
  async rounds({ messages, ports, rateHz }) {
    const start = performance.now();
    for (let round = 0; round < messages.length; ) {
      const due = Math.min(messages.length, 1 + Math.floor(((performance.now() - start) * rateHz) / 1000));
      for (; round < due; round += 1) await Promise.all(ports.map((port) => send(messages[round], port)));
      await new Promise((resolve) => setTimeout(resolve, 2));
    }
    parentPort.postMessage('sent');
  },
};
socket.bind(0, '127.0.0.1', () => parentPort.postMessage(socket.address().port));
parentPort.on('message', ({ work, ...how }) => WORK[work](how));
`;

export interface Sender {
  /** Where it hears what is sent back. */
  readonly port: number;
  /** Blocks this thread until a burst is sent, so that it waits in the receiving socket. */
  burst(bytes: Uint8Array, count: number, port: number): void;
  /** Sends and waits for what comes back, one after the other. @returns What each took (ms). */
  pings(messages: readonly Uint8Array[], port: number): Promise<number[]>;
  rounds(messages: readonly Uint8Array[], ports: readonly number[], rateHz: number): Promise<void>;
  close(): Promise<unknown>;
}

export async function startSender(): Promise<Sender> {
  const shared = new SharedArrayBuffer(4);
  const done = new Int32Array(shared);
  const worker = new Worker(CODE, { eval: true, workerData: shared });
  const [port] = (await once(worker, 'message')) as [number];
  return {
    port,
    burst: (bytes, count, to) => {
      const before = Atomics.load(done, 0);
      worker.postMessage({ work: 'burst', bytes, count, port: to });
      Atomics.wait(done, 0, before);
    },
    pings: async (messages, to) => {
      worker.postMessage({ work: 'pings', messages, port: to });
      return ((await once(worker, 'message')) as [number[]])[0];
    },
    rounds: async (messages, ports, rateHz) => {
      worker.postMessage({ work: 'rounds', messages, ports, rateHz });
      await once(worker, 'message');
    },
    close: () => worker.terminate(),
  };
}
