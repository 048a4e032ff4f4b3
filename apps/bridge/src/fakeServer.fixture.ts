// A debrief server for the tests: takes recordings as it is told to, and talks with one bridge over a websocket.
import { createHash } from 'node:crypto';
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { BridgeMessage, type StationCommand } from '@stillprop/contracts';
import { onTestFinished } from 'vitest';
import { type WebSocket, WebSocketServer } from 'ws';

export type Behaviour = 'take' | 'break' | 'refuse' | 'wrong-receipt';

export interface FakeServer {
  readonly url: string;
  readonly port: number;
  behaviour: Behaviour;
  /** Every POST of a recording, in order. */
  readonly posts: {
    readonly type: string | undefined;
    readonly claimed: string;
    readonly sha256: string;
    readonly text: string;
  }[];
  /** What POSTs and connections showed to be let in, in order. */
  readonly authorizations: (string | undefined)[];
  /** Answers what shows another token as a server does that has revoked it; null: asks for none. */
  takesToken: string | null;
  readonly messages: BridgeMessage[];
  /** Messages that were no messages of a bridge. */
  readonly wrong: string[];
  connections: number;
  /** Bridge instances that connected, in order. */
  readonly instances: string[];
  /** Ends every connection that says hello, with this code and reason. */
  refuses: { readonly code: number; readonly reason: string } | null;
  do(id: string, command: StationCommand): void;
  sendRaw(text: string): void;
  dropConnections(): void;
  close(): Promise<void>;
}

const REVOKED = JSON.stringify({ code: 'TOKEN_REFUSED', message: 'its token was revoked' });

export async function fakeServer(port = 0): Promise<FakeServer> {
  const sockets = new Set<WebSocket>();
  const admitted = ({ headers: { authorization } }: IncomingMessage) => {
    server.authorizations.push(authorization);
    return server.takesToken === null || authorization === `Bearer ${server.takesToken}`;
  };
  const http = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      const bytes = Buffer.concat(parts);
      const sha256 = createHash('sha256').update(bytes).digest('hex');
      const text = bytes.toString('utf8');
      const claimed = String(request.headers['x-content-sha256']);
      server.posts.push({ type: request.headers['content-type'], claimed, sha256, text });
      if (!admitted(request)) {
        response.writeHead(401).end(REVOKED);
        return;
      }
      const { attemptId } = JSON.parse(text.slice(0, text.indexOf('\n'))) as { attemptId: string };
      if (server.behaviour === 'break') response.writeHead(503).end('busy');
      else if (server.behaviour === 'refuse') response.writeHead(422).end('{"code":"BAD","message":"line 2 is wrong"}');
      else {
        const of = server.behaviour === 'take' ? sha256 : 'of something else';
        response.writeHead(201, { 'content-type': 'application/json' });
        response.end(JSON.stringify({ attemptId, sha256: of, already: false }));
      }
    });
  });
  const websockets = new WebSocketServer({ noServer: true, path: '/ws/bridge' });
  http.on('upgrade', (request, socket, head) => {
    if (admitted(request)) {
      websockets.handleUpgrade(request, socket, head, (opened) => websockets.emit('connection', opened, request));
    } else
      socket.end(`HTTP/1.1 401 Refused\r\nContent-Length: ${REVOKED.length}\r\nConnection: close\r\n\r\n${REVOKED}`);
  });
  websockets.on('connection', (socket, request) => {
    server.connections += 1;
    server.instances.push(String(request.headers['bridge-instance']));
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('message', (data) => {
      const parsed = BridgeMessage.safeParse(JSON.parse(String(data)));
      if (parsed.success) server.messages.push(parsed.data);
      else server.wrong.push(String(data));
      if (server.refuses !== null) socket.close(server.refuses.code, server.refuses.reason);
    });
  });
  await new Promise<void>((resolve) => http.listen(port, '127.0.0.1', resolve));
  const bound = (http.address() as AddressInfo).port;
  const tell = (text: string) => {
    for (const socket of sockets) socket.send(text);
  };
  let open = true;
  const server: FakeServer = {
    url: `http://127.0.0.1:${bound}`,
    port: bound,
    behaviour: 'take',
    posts: [],
    authorizations: [],
    takesToken: null,
    messages: [],
    wrong: [],
    connections: 0,
    instances: [],
    refuses: null,
    do: (id, command) => tell(JSON.stringify({ type: 'do', id, command })),
    sendRaw: tell,
    dropConnections: () => {
      for (const socket of sockets) socket.terminate();
    },
    close: () => {
      if (!open) return Promise.resolve();
      open = false;
      for (const socket of sockets) socket.terminate();
      websockets.close();
      http.closeAllConnections();
      return new Promise((resolve) => http.close(() => resolve()));
    },
  };
  onTestFinished(server.close);
  return server;
}
