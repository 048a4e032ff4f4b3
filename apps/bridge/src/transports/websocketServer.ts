// Messages over websocket from a simulator that connects to Stillprop. Web pages may only if the profile names them.
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Duplex } from 'node:stream';
import type { WebsocketServerTransport } from '@stillprop/contracts';
import { type WebSocket, WebSocketServer } from 'ws';
import { cannotListen, plainAddress } from './addresses.js';
import { letsIn, type Opened } from './senders.js';
import { MOST_CONNECTIONS, type Transport, type TransportListener, type TransportRefusal } from './transport.js';
import { CUT_OFF_BYTES, readMessages, sendMessage } from './websocketMessages.js';

/** Of these some are only asking: connections that are no websocket yet, or never become one. */
const MOST_SOCKETS = 4 * MOST_CONNECTIONS;
const ASK_WITHIN_MS = 5000;

/** @throws {Error} If its address cannot be bound, with words that follow the link's name. */
export async function openWebsocketServer(
  transport: Opened<WebsocketServerTransport>,
  listener: TransportListener,
): Promise<Transport> {
  const { listenHost, listenPort } = transport;
  const mayCome = letsIn(transport.allowedSenders);
  const websockets = new WebSocketServer({ noServer: true, maxPayload: CUT_OFF_BYTES, perMessageDeflate: false });
  let speaking: WebSocket | null = null;

  const http = createServer((_request, response) => {
    response.writeHead(426, { upgrade: 'websocket', connection: 'close' }).end('This address takes websockets only.\n');
  });
  http.maxConnections = MOST_SOCKETS;
  http.headersTimeout = ASK_WITHIN_MS;
  http.requestTimeout = ASK_WITHIN_MS;
  http.on('upgrade', (request, socket, head) => {
    socket.on('error', () => socket.destroy());
    const refusal = refusalOf(request);
    if (refusal !== null) {
      refuse(socket, refusal.code === 'wrong-path' ? '404 Not Found' : '403 Forbidden');
      listener.onRefused(refusal.code, refusal.about);
      return;
    }
    websockets.handleUpgrade(request, socket, head, (opened) => {
      speaking ??= opened;
      opened.on('close', () => {
        if (speaking === opened) speaking = [...websockets.clients].at(-1) ?? null;
      });
      readMessages(opened, plainAddress(request.socket.remoteAddress), listener, () => {
        speaking = opened;
      });
    });
  });

  const refusalOf = (request: IncomingMessage): { code: TransportRefusal; about: string } | null => {
    const sender = plainAddress(request.socket.remoteAddress);
    const { origin } = request.headers;
    const path = (request.url ?? '').split('?')[0] ?? '';
    if (!mayCome(sender)) return { code: 'sender-not-allowed', about: sender };
    if (origin !== undefined && !transport.allowedOrigins.includes(origin)) {
      return { code: 'origin-not-allowed', about: shortened(origin) };
    }
    if (transport.path !== undefined && path !== transport.path) return { code: 'wrong-path', about: shortened(path) };
    return websockets.clients.size >= MOST_CONNECTIONS ? { code: 'too-many-connections', about: sender } : null;
  };

  try {
    await new Promise<void>((resolve, reject) => {
      http.once('error', reject);
      http.listen(listenPort, listenHost, () => {
        http.off('error', reject);
        resolve();
      });
    });
  } catch (error) {
    throw cannotListen(listenHost, listenPort, error as Error);
  }
  http.on('error', (error) => listener.onError(error.message));
  const { port } = http.address() as AddressInfo;
  return {
    address: { host: listenHost, port },
    where: `listens on ${listenHost} port ${port} (websocket)`,
    send: (bytes, kind) => sendMessage(speaking, bytes, kind),
    connections: () => websockets.clients.size,
    close: () => {
      for (const socket of websockets.clients) socket.terminate();
      websockets.close();
      http.closeAllConnections();
      return new Promise((resolve) => http.close(() => resolve()));
    },
  };
}

/** What a stranger wrote, for a line on the page. */
function shortened(text: string): string {
  return text.length > 100 ? `${text.slice(0, 99)}…` : text;
}

function refuse(socket: Duplex, status: string): void {
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}
