// Datagrams of a link: sent to this computer, to all of its network (broadcast) or to a group (multicast).
import { createSocket, type RemoteInfo, type Socket, type SocketOptions } from 'node:dgram';
import { isIP, isIPv6 } from 'node:net';
import type { UdpTransport } from '@stillprop/contracts';
import { addressOf, cannotListen, plainAddress } from './addresses.js';
import { letsIn, type Opened } from './senders.js';
import { LARGEST_MESSAGE_BYTES, type Transport, type TransportListener } from './transport.js';

/** Room for seconds of datagrams while the program is busy elsewhere; the system may grant less. */
const RECEIVE_BUFFER_BYTES = 4 * 1024 * 1024;

/**
 * Opens the socket of a link. Broadcasts come in where it listens on 0.0.0.0.
 *
 * @throws {Error} If the address cannot be bound or the group not joined, with words that follow the link's name: which,
 *   why, and what to do.
 */
export async function openUdp(
  transport: Opened<UdpTransport>,
  listener: TransportListener,
): Promise<Transport & Required<Pick<Transport, 'sendTo'>>> {
  const { listenHost, listenPort } = transport;
  const address = await addressOf(listenHost).catch((error: Error) => {
    throw cannotListen(listenHost, listenPort, error);
  });
  const mayCome = letsIn(transport.allowedSenders);
  const socket = createSocket({
    type: isIPv6(address) ? 'udp6' : 'udp4',
    recvBufferSize: RECEIVE_BUFFER_BYTES,
    lookup: asItIs,
    reuseAddr: transport.multicastGroup !== undefined, // others on this computer may listen to the group too
  });
  socket.on('message', (bytes: Uint8Array, { address: from }: RemoteInfo) => {
    const sender = plainAddress(from);
    if (!mayCome(from)) listener.onRefused('sender-not-allowed', sender);
    else if (bytes.length > LARGEST_MESSAGE_BYTES) listener.onRefused('too-large', sender);
    else listener.onMessage(bytes, sender);
  });
  try {
    await bound(socket, address, listenPort);
  } catch (error) {
    socket.close();
    throw cannotListen(listenHost, listenPort, error as Error);
  }
  try {
    join(socket, transport);
  } catch (error) {
    socket.close();
    throw error;
  }
  socket.on('error', (error) => listener.onError(error.message));
  let open = true;
  const { port } = socket.address();
  return {
    address: { host: listenHost, port },
    where: `listens on ${listenHost} port ${port}${transport.multicastGroup === undefined ? '' : ` to group ${transport.multicastGroup}`}`,
    send: () => {
      throw new Error('the link profile names no commands.port, and datagrams have no way back');
    },
    sendTo: (bytes, host, to) => {
      if (!open) return;
      socket.send(bytes, to, host, (error) => {
        if (error !== null) listener.onError(`cannot send to ${host} port ${to}: ${error.message}`);
      });
    },
    connections: () => null,
    close: () => {
      if (!open) return Promise.resolve();
      open = false;
      return new Promise((resolve) => socket.close(resolve));
    },
  };
}

/** Hosts are addresses here: to look one up would only put the sending of a command off to the next turn. */
const asItIs = ((host: string, _options: unknown, done: (error: null, address: string, family: number) => void) =>
  done(null, host, isIP(host))) as unknown as NonNullable<SocketOptions['lookup']>;

function bound(socket: Socket, address: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    socket.once('error', reject);
    socket.bind({ address, port }, () => {
      socket.off('error', reject);
      resolve();
    });
  });
}

function join(socket: Socket, { multicastGroup: group, multicastInterface: card }: Opened<UdpTransport>): void {
  if (group === undefined) return;
  try {
    socket.addMembership(group, card);
  } catch (error) {
    const whose = card === undefined ? '' : ` on the network card ${card}`;
    const advice =
      card === undefined
        ? 'connect this computer to the network, or name the card in transport.multicastInterface of the link file'
        : 'set transport.multicastInterface in the link file to an address that this computer has, or leave it out';
    throw new Error(`cannot join group ${group}${whose} (${(error as NodeJS.ErrnoException).code}): ${advice}`, {
      cause: error,
    });
  }
}
