// The transport that a link profile asks for.
import type { LinkTransport } from '@stillprop/contracts';
import type { Opened } from './senders.js';
import { openTcpClient } from './tcpClient.js';
import { openTcpServer } from './tcpServer.js';
import type { Transport, TransportListener } from './transport.js';
import { openUdp } from './udp.js';
import { openWebsocketClient } from './websocketClient.js';
import { openWebsocketServer } from './websocketServer.js';

/** @throws {Error} If it cannot listen, with words that follow the link's name: where, why, and what to do. */
export async function openTransport(transport: Opened<LinkTransport>, listener: TransportListener): Promise<Transport> {
  switch (transport.kind) {
    case 'udp':
      return openUdp(transport, listener);
    case 'websocketClient':
      return openWebsocketClient(transport, listener);
    case 'websocketServer':
      return openWebsocketServer(transport, listener);
    case 'tcpClient':
      return openTcpClient(transport, listener);
    case 'tcpServer':
      return openTcpServer(transport, listener);
  }
}
