// A UDP socket that lets only the right senders in: datagrams to a callback, refusals by code.
import { createSocket, type RemoteInfo } from 'node:dgram';
import { lookup } from 'node:dns/promises';
import { isIP, isIPv6 } from 'node:net';
import type { UdpTransport } from '@stillprop/contracts';

/** Room for seconds of datagrams while the program is busy elsewhere; the system may grant less. */
const RECEIVE_BUFFER_BYTES = 4 * 1024 * 1024;
/** No sample is anywhere near this long. */
const LARGEST_DATAGRAM_BYTES = 16 * 1024;

export type SourceRefusal = 'sender-not-allowed' | 'too-large';

export interface UdpSource {
  readonly host: string;
  readonly port: number;
  /** Sends at once; a failure goes to `onError`. */
  send(bytes: Uint8Array, host: string, port: number): void;
  close(): Promise<void>;
}

export interface UdpListener {
  onDatagram(bytes: Uint8Array): void;
  /** `sender` is the address it came from. */
  onRefused(code: SourceRefusal, sender: string): void;
  onError(message: string): void;
}

/**
 * Opens the socket of a link.
 *
 * @throws {Error} If the address cannot be bound, with words that follow the link's name: which, why, and what to do.
 */
export async function openUdpSource(transport: UdpTransport, listener: UdpListener): Promise<UdpSource> {
  const { listenHost, listenPort } = transport;
  const address = await addressOf(listenHost).catch((error: NodeJS.ErrnoException) => {
    throw cannotListen(transport, error);
  });
  const allowed = new Set(transport.allowedSenders.map(plainAddress));
  const socket = createSocket({ type: isIPv6(address) ? 'udp6' : 'udp4', recvBufferSize: RECEIVE_BUFFER_BYTES });
  socket.on('message', (bytes: Uint8Array, sender: RemoteInfo) => {
    if (!allowed.has(plainAddress(sender.address)))
      listener.onRefused('sender-not-allowed', plainAddress(sender.address));
    else if (bytes.length > LARGEST_DATAGRAM_BYTES) listener.onRefused('too-large', plainAddress(sender.address));
    else listener.onDatagram(bytes);
  });
  await new Promise<void>((resolve, reject) => {
    socket.once('error', (error) => {
      socket.close();
      reject(cannotListen(transport, error));
    });
    socket.bind({ address, port: listenPort }, () => {
      socket.removeAllListeners('error');
      resolve();
    });
  });
  socket.on('error', (error) => listener.onError(error.message));
  let open = true;
  return {
    host: listenHost,
    port: socket.address().port,
    send: (bytes, host, port) => {
      if (!open) return;
      socket.send(bytes, port, host, (error) => {
        if (error !== null) listener.onError(`cannot send to ${host} port ${port}: ${error.message}`);
      });
    },
    close: () => {
      if (!open) return Promise.resolve();
      open = false;
      return new Promise((resolve) => socket.close(resolve));
    },
  };
}

function cannotListen({ listenHost: host, listenPort: port }: UdpTransport, error: Error): Error {
  return new Error(`cannot listen on ${host} port ${port}: ${reason(host, port, error)}`, { cause: error });
}

function reason(host: string, port: number, error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case 'EADDRINUSE':
      return `port ${port} is used by another program: end that one, or set another transport.listenPort in the link file and in your simulator`;
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return `${host} is no address of this computer: set transport.listenHost in the link file to 127.0.0.1 for a simulator on this computer, or to 0.0.0.0 for one on another`;
    case 'EACCES':
      return `the system keeps port ${port} for itself: set another transport.listenPort, above 1023, in the link file and in your simulator`;
    default:
      return error.message;
  }
}

/** The address behind a name, looked up once: a look-up in the moment of a failure would cost height. */
export async function addressOf(host: string): Promise<string> {
  return isIP(host) !== 0 ? host : (await lookup(host)).address;
}

/** An IPv4 address that a socket of IPv6 tells as mapped is the same sender. */
function plainAddress(address: string): string {
  return address.replace(/^::ffff:/i, '');
}
