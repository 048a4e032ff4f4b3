// Lines over TCP from a simulator that connects to Stillprop.
import { type AddressInfo, createServer, type Socket } from 'node:net';
import type { TcpServerTransport } from '@stillprop/contracts';
import { cannotListen, plainAddress } from './addresses.js';
import { letsIn, type Opened } from './senders.js';
import { readLines, sendBack } from './tcpLines.js';
import { MOST_CONNECTIONS, type Transport, type TransportListener } from './transport.js';

/** @throws {Error} If its address cannot be bound, with words that follow the link's name. */
export async function openTcpServer(
  transport: Opened<TcpServerTransport>,
  listener: TransportListener,
): Promise<Transport> {
  const { listenHost, listenPort, longestLineBytes } = transport;
  const mayCome = letsIn(transport.allowedSenders);
  const sockets = new Set<Socket>();
  let speaking: Socket | null = null;
  const server = createServer((socket) => {
    socket.on('error', () => undefined); // a close follows
    const sender = plainAddress(socket.remoteAddress);
    const refusal = !mayCome(sender)
      ? 'sender-not-allowed'
      : sockets.size >= MOST_CONNECTIONS
        ? 'too-many-connections'
        : null;
    if (refusal !== null) {
      socket.destroy();
      listener.onRefused(refusal, sender);
      return;
    }
    sockets.add(socket);
    speaking ??= socket;
    socket.on('close', () => {
      sockets.delete(socket);
      if (speaking === socket) speaking = [...sockets].at(-1) ?? null;
    });
    readLines(socket, longestLineBytes, listener, () => {
      speaking = socket;
    });
  });
  try {
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(listenPort, listenHost, () => {
        server.off('error', reject);
        resolve();
      });
    });
  } catch (error) {
    throw cannotListen(listenHost, listenPort, error as Error);
  }
  server.on('error', (error) => listener.onError(error.message));
  const { port } = server.address() as AddressInfo;
  return {
    address: { host: listenHost, port },
    where: `listens on ${listenHost} port ${port} (TCP)`,
    send: (bytes) => sendBack(speaking, bytes),
    connections: () => sockets.size,
    close: () => {
      for (const socket of sockets) socket.destroy();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
