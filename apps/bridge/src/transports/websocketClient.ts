// Messages over websocket from a simulator to which Stillprop connects, again and again.
import type { WebsocketClientTransport } from '@stillprop/contracts';
import { WebSocket } from 'ws';
import { cannotConnect } from './addresses.js';
import { Retry } from './retry.js';
import type { Transport, TransportListener } from './transport.js';
import { CUT_OFF_BYTES, readMessages, sendMessage } from './websocketMessages.js';

const CONNECT_WITHIN_MS = 5000;

/**
 * Begins to connect; that nothing answers yet is told as a problem, and is no error. It goes to the address of the profile
 * and nowhere else: an answer that sends it on to another one is a refusal.
 */
export function openWebsocketClient(transport: WebsocketClientTransport, listener: TransportListener): Transport {
  const { url } = transport;
  const { hostname, port, protocol } = new URL(url);
  let socket: WebSocket | null = null;
  let open: WebSocket | null = null;
  let ended = false;

  const start = () => {
    const current = new WebSocket(url, {
      followRedirects: false,
      handshakeTimeout: CONNECT_WITHIN_MS,
      maxPayload: CUT_OFF_BYTES,
      perMessageDeflate: false,
    });
    socket = current;
    let why: NodeJS.ErrnoException = new Error('the simulator ended the connection');
    current.on('open', () => {
      open = current;
      retry.opened();
      listener.onProblem(null);
      readMessages(current, hostname, listener);
    });
    current.on('error', (error) => {
      why = error;
    });
    current.on('close', () => {
      open = null;
      if (ended) return;
      listener.onProblem(cannotConnect(url, 'transport.url', why));
      retry.again();
    });
  };
  const retry = new Retry(start);
  start();
  return {
    address: { host: hostname, port: port === '' ? (protocol === 'wss:' ? 443 : 80) : Number(port) },
    where: `connects to ${url}`,
    send: (bytes, kind) => sendMessage(open, bytes, kind),
    connections: () => (open === null ? 0 : 1),
    close: async () => {
      ended = true;
      retry.end();
      socket?.terminate();
    },
  };
}
