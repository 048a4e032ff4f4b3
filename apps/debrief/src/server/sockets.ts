// The two websockets: /ws/bridge for stations, /ws/live for pages. Checks who asks, keeps watch, closes cleanly.
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { type RawData, type WebSocket, WebSocketServer } from 'ws';
import { type Admitted, admitBridge } from './admission.js';
import { ApiFailure } from './apiFailure.js';
import { bridgeSession, CLOSE } from './bridgeSession.js';
import { addressProblem, hostProblem, originProblem } from './guards.js';
import type { LiveFeed } from './liveFeed.js';
import type { StationHub } from './stationHub.js';
import type { StationTokens } from './stationTokens.js';
import { endWith } from './unroutable.js';

const BRIDGE_MESSAGE_BYTES = 256 * 1024;
const PAGE_MESSAGE_BYTES = 1024;
/** With more than this unsent, a bridge does not read: it is let go, whether it answers pings or not. */
const UNREAD_BYTES = 4 * 1024 * 1024;
/** A close frame's reason holds this many bytes at most (RFC 6455, 5.5). */
const REASON_BYTES = 123;
const GOODBYE_MS = 1000;
const TOKENS_UNREADABLE = 'the tokens of stations cannot be read; the log of the server says why';

export interface SocketsOptions {
  readonly hub: StationHub;
  readonly feed: LiveFeed;
  readonly tokens: StationTokens | undefined;
  readonly log: (line: string) => void;
  /** Time between two pings; a side that leaves one unanswered is let go. */
  readonly pingEveryMs: number;
}

export function addSockets(app: FastifyInstance, { hub, feed, tokens, log, pingEveryMs }: SocketsOptions): void {
  const bridges = new WebSocketServer({ noServer: true, maxPayload: BRIDGE_MESSAGE_BYTES });
  const pages = new WebSocketServer({ noServer: true, maxPayload: PAGE_MESSAGE_BYTES });
  let closing = false;

  const admit = ({ headers, socket }: IncomingMessage) =>
    admitBridge({ headers, remoteAddress: socket.remoteAddress }, tokens);

  bridges.on('connection', (socket: WebSocket, request: IncomingMessage, admitted: Admitted) => {
    keepWatch(socket, pingEveryMs, async () => {
      if (admitted.token === null) return;
      if ((await tokens?.stationOf(admitted.token)) === admitted.station) return;
      closeWith(socket, CLOSE.refused, 'the token of this station was revoked');
    });
    const session = bridgeSession(
      {
        send(text) {
          if (socket.bufferedAmount <= UNREAD_BYTES) return socket.send(text);
          log('a bridge that does not read its commands was let go');
          socket.terminate();
        },
        close(code, reason) {
          log(`a bridge's connection was closed: ${reason}`);
          closeWith(socket, code, reason);
        },
      },
      hub,
      admitted,
      request.headers['bridge-instance']?.toString(),
    );
    socket.on('message', (data: RawData, isBinary: boolean) => {
      if (socket.readyState === socket.OPEN) session.message(String(data), isBinary);
    });
    socket.on('close', () => session.closed());
  });

  pages.on('connection', (socket) => {
    keepWatch(socket, pingEveryMs);
    socket.on('message', () => closeWith(socket, CLOSE.refused, 'this connection only tells; send commands to /api'));
    socket.on('close', () => feed.remove(socket));
    feed.add(socket);
  });

  app.server.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    socket.on('error', () => socket.destroy());
    const path = (request.url ?? '').split('?')[0];
    const server = path === '/ws/bridge' ? bridges : path === '/ws/live' ? pages : undefined;
    const problem =
      (closing ? new ApiFailure('CLOSING', 'the server is closing') : undefined) ??
      (server === undefined ? new ApiFailure('NOT_FOUND', `there is no websocket at ${path}`) : undefined) ??
      (server === bridges ? undefined : pageProblem(request));
    if (problem !== undefined || server === undefined) return endWith(socket, problem as ApiFailure);
    if (server === pages) return pages.handleUpgrade(request, socket, head, (open) => pages.emit('connection', open));
    admit(request).then(
      (admitted) => {
        if (closing) return endWith(socket, new ApiFailure('CLOSING', 'the server is closing'));
        bridges.handleUpgrade(request, socket, head, (open) => bridges.emit('connection', open, request, admitted));
      },
      (error: unknown) => {
        if (!(error instanceof ApiFailure)) log(`the tokens of stations cannot be read: ${String(error)}`);
        endWith(socket, error instanceof ApiFailure ? error : new ApiFailure('SERVER_FAULT', TOKENS_UNREADABLE));
      },
    );
  });

  app.addHook('preClose', async () => {
    closing = true;
    hub.close();
    feed.close();
    await Promise.all([...bridges.clients, ...pages.clients].map(sayGoodbye));
  });
}

function pageProblem({ headers, socket }: IncomingMessage): ApiFailure | undefined {
  return addressProblem(socket.remoteAddress) ?? hostProblem(headers) ?? originProblem(headers);
}

/** Pings, and lets go of a side that does not answer; a broken frame ends the connection and nothing else. */
function keepWatch(socket: WebSocket, everyMs: number, look: () => Promise<void> = async () => undefined): void {
  let answered = true;
  const timer = setInterval(() => {
    if (!answered) return socket.terminate();
    answered = false;
    socket.ping();
    look().catch(() => undefined); // what cannot be read now is looked at again with the next beat
  }, everyMs);
  socket.on('pong', () => {
    answered = true;
  });
  socket.on('error', () => undefined); // ws closes the connection itself, with the code that fits
  socket.on('close', () => clearInterval(timer));
}

function closeWith(socket: WebSocket, code: number, reason: string): void {
  let text = reason;
  while (Buffer.byteLength(text) > REASON_BYTES) text = `${[...text].slice(0, -2).join('')}…`;
  socket.close(code, text);
}

function sayGoodbye(socket: WebSocket): Promise<void> {
  return new Promise((resolve) => {
    const late = setTimeout(() => socket.terminate(), GOODBYE_MS);
    socket.once('close', () => {
      clearTimeout(late);
      resolve();
    });
    socket.close(CLOSE.goingAway, 'the server is closing');
  });
}
