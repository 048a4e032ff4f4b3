// Addresses of computers, and in words what is wrong with one on which nothing can be opened or reached.
import { lookup } from 'node:dns/promises';
import { isIP } from 'node:net';

/** An IPv4 address that a socket of IPv6 tells as mapped is the same sender. */
export function plainAddress(address = ''): string {
  return address.startsWith(':') ? address.replace(/^::ffff:/i, '') : address;
}

/** The address behind a name, looked up once: a look-up in the moment of a failure would cost height. */
export async function addressOf(host: string): Promise<string> {
  return isIP(host) !== 0 ? host : (await lookup(host)).address;
}

/** Why a link cannot listen, with words that follow its name: which address, why, and what to do. */
export function cannotListen(host: string, port: number, error: Error): Error {
  return new Error(`cannot listen on ${host} port ${port}: ${listenReason(host, port, error)}`, { cause: error });
}

function listenReason(host: string, port: number, error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case 'EADDRINUSE':
      return `port ${port} is used by another program: end that one, or choose another port (transport.listenPort in the link file), in your simulator too`;
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return `${host} is no address of this computer: choose 127.0.0.1 for a simulator on this computer, or 0.0.0.0 for one on another (transport.listenHost in the link file)`;
    case 'EACCES':
      return `the system keeps port ${port} for itself: choose one above 1023 (transport.listenPort in the link file), in your simulator too`;
    default:
      return error.message;
  }
}

/** Why a link is not connected, with words that follow its name. `field` is where the link file says to what it connects. */
export function cannotConnect(target: string, field: string, error: NodeJS.ErrnoException): string {
  return `is not connected to ${target}: ${connectReason(field, error)}; it is tried again and again`;
}

function connectReason(field: string, error: NodeJS.ErrnoException): string {
  switch (error.code) {
    case 'ECONNREFUSED':
      return `nothing listens there: start your simulator, or correct the address (${field} in the link file)`;
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return `no computer of that name is found: correct the address (${field} in the link file)`;
    case 'ETIMEDOUT':
    case 'EHOSTUNREACH':
    case 'ENETUNREACH':
      return `that computer does not answer: switch it on, and look at its network and the address (${field} in the link file)`;
    default:
      return error.message;
  }
}
