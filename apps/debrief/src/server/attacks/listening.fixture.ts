// A listening server to attack, and plain sockets that may send it anything: no client stands between test and wire.
import { once } from 'node:events';
import { type AddressInfo, connect, type Socket } from 'node:net';
import { testApp } from '../attempt.fixture.js';
import type { AppDeps } from '../buildApp.js';

/** So short that tests of slow clients are quick. */
export const SHORT_PATIENCE = { headersMs: 300, requestMs: 600, stillMs: 400, lookEveryMs: 50 };

export interface RawAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

export async function attackedApp(deps: Partial<AppDeps> = {}) {
  const own = await testApp(deps);
  await own.app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = own.app.server.address() as AddressInfo;
  const host = `Host: 127.0.0.1:${port}\r\n`;
  const sockets: Socket[] = [];

  /** `closed` is fulfilled with all that was received, when the server has ended the connection. */
  async function wire(options: { readonly reads?: boolean } = {}) {
    const socket = connect({ port, host: '127.0.0.1', allowHalfOpen: true });
    sockets.push(socket);
    socket.on('error', () => undefined); // a connection cut off is what is looked for
    await once(socket, 'connect');
    let received = '';
    if (options.reads ?? true) socket.on('data', (chunk) => (received += String(chunk)));
    else socket.pause();
    const closed = new Promise<string>((resolve) => {
      for (const event of ['end', 'close']) socket.once(event, () => resolve(received));
    });
    return { socket, closed, received: () => received };
  }

  /** Sends text as it is on a connection that the server is asked to close, or closes itself, and reads the answer. */
  async function raw(...parts: (string | Buffer)[]): Promise<RawAnswer> {
    const { socket, closed } = await wire();
    for (const part of parts) socket.write(part);
    const answer = await closed;
    socket.destroy();
    return readAnswer(answer);
  }

  return {
    ...own,
    port,
    host,
    wire,
    /** Connections that the server has. */
    connections: () =>
      new Promise<number>((resolve, reject) => {
        own.app.server.getConnections((error, count) => (error ? reject(error) : resolve(count)));
      }),
    raw,
    /** Asked on a connection of its own, which it leaves closed. */
    healthy: async () => (await raw(`GET /api/health HTTP/1.1\r\n${host}Connection: close\r\n\r\n`)).status === 200,
    async close() {
      for (const socket of sockets) socket.destroy();
      await own.close();
    },
  };
}

export type Attacked = Awaited<ReturnType<typeof attackedApp>>;

function readAnswer(text: string): RawAnswer {
  const [head = '', ...rest] = text.replace(/^HTTP\/1.1 100 Continue\r\n\r\n/, '').split('\r\n\r\n');
  const [first = '', ...lines] = head.split('\r\n');
  const headers = Object.fromEntries(lines.map((line) => /^([^:]+): ?(.*)$/.exec(line)?.slice(1, 3) ?? []));
  return {
    status: Number(first.split(' ')[1]),
    headers: Object.fromEntries(Object.entries(headers).map(([name, value]) => [name.toLowerCase(), String(value)])),
    body: rest.join('\r\n\r\n'),
  };
}
