// A UDP socket that hears anybody who reaches it, to find out what comes: nothing heard here ever becomes a sample of an attempt.
import { createSocket, type RemoteInfo } from 'node:dgram';
import { isIPv6 } from 'node:net';
import { LARGEST_MESSAGE_BYTES } from '@stillprop/contracts';
import { nowS } from '../clock.js';
import { addressOf, plainAddress } from '../transports/addresses.js';

export interface TeachInListener {
  /** @param receivedS On the steady clock. */
  onMessage(bytes: Uint8Array, sender: string, receivedS: number): void;
  onError(message: string): void;
}

/** Where bytes come from while a link is taught. Another transport serves if it gives this. */
export interface TeachInSource {
  readonly host: string;
  readonly port: number;
  /** Sends one message; a failure goes to `onError`. */
  send(bytes: Uint8Array, host: string, port: number): void;
  close(): Promise<void>;
}

export interface TeachInPlace {
  readonly host: string;
  readonly port: number;
}
export type OpenTeachInSource = (place: TeachInPlace, listener: TeachInListener) => Promise<TeachInSource>;

/** @throws {Error} If the address cannot be bound, in words: which, why, what to do. */
export const openTeachInUdp: OpenTeachInSource = async ({ host, port }, listener) => {
  const address = await addressOf(host).catch((error: NodeJS.ErrnoException) => {
    throw cannotListen(host, port, error);
  });
  const socket = createSocket({ type: isIPv6(address) ? 'udp6' : 'udp4' });
  socket.on('message', (bytes: Uint8Array, sender: RemoteInfo) => {
    if (bytes.length > LARGEST_MESSAGE_BYTES) {
      listener.onError(
        `a message of ${bytes.length} bytes came, and ${LARGEST_MESSAGE_BYTES} is the most that is read`,
      );
    } else listener.onMessage(bytes, plainAddress(sender.address), nowS());
  });
  await new Promise<void>((resolve, reject) => {
    socket.once('error', (error) => {
      socket.close();
      reject(cannotListen(host, port, error));
    });
    socket.bind({ address, port }, () => {
      socket.removeAllListeners('error');
      resolve();
    });
  });
  socket.on('error', (error) => listener.onError(error.message));
  let open = true;
  return {
    host,
    port: socket.address().port,
    send: (bytes, to, toPort) => {
      if (!open) return;
      socket.send(bytes, toPort, to, (error) => {
        if (error !== null) listener.onError(`cannot send to ${to} port ${toPort}: ${error.message}`);
      });
    },
    close: () => {
      if (!open) return Promise.resolve();
      open = false;
      return new Promise((resolve) => socket.close(resolve));
    },
  };
};

function cannotListen(host: string, port: number, error: NodeJS.ErrnoException): Error {
  return new Error(`cannot listen on ${host} port ${port}: ${reason(host, port, error)}`, { cause: error });
}

function reason(host: string, port: number, error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case 'EADDRINUSE':
      return `port ${port} is used by another program: end that one, or choose another port and set it in your simulator too`;
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return `${host} is no address of this computer: give 127.0.0.1 for a simulator on this computer, or 0.0.0.0 for one on another`;
    case 'EACCES':
      return `the system keeps port ${port} for itself: choose one above 1023`;
    default:
      return error.message;
  }
}
