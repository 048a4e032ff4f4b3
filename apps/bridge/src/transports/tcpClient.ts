// Lines over TCP from a simulator to which Stillprop connects, again and again.
import { connect, type Socket } from 'node:net';
import type { TcpClientTransport } from '@stillprop/contracts';
import { cannotConnect } from './addresses.js';
import { Retry } from './retry.js';
import { readLines, sendBack } from './tcpLines.js';
import type { Transport, TransportListener } from './transport.js';

const CONNECT_WITHIN_MS = 5000;

/** Begins to connect; that nothing answers yet is told as a problem, and is no error. */
export function openTcpClient(transport: TcpClientTransport, listener: TransportListener): Transport {
  const { host, port, longestLineBytes } = transport;
  const target = `${host} port ${port}`;
  const field = 'transport.host and transport.port';
  let socket: Socket | null = null;
  let open: Socket | null = null;

  const start = () => {
    const current = connect({ host, port });
    socket = current;
    let why: NodeJS.ErrnoException = new Error('the simulator ended the connection');
    const late = setTimeout(() => {
      current.destroy(Object.assign(new Error('no answer'), { code: 'ETIMEDOUT' }));
    }, CONNECT_WITHIN_MS);
    current.on('connect', () => {
      clearTimeout(late);
      open = current;
      retry.opened();
      listener.onProblem(null);
      readLines(current, longestLineBytes, listener);
    });
    current.on('error', (error) => {
      why = error;
    });
    current.on('close', () => {
      clearTimeout(late);
      open = null;
      if (ended) return;
      listener.onProblem(cannotConnect(target, field, why));
      retry.again();
    });
  };
  let ended = false;
  const retry = new Retry(start);
  start();
  return {
    address: { host, port },
    where: `connects to ${target}`,
    send: (bytes) => sendBack(open, bytes),
    connections: () => (open === null ? 0 : 1),
    close: async () => {
      ended = true;
      retry.end();
      socket?.destroy();
    },
  };
}
