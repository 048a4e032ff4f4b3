// Who may send to a transport that listens: the addresses of its profile, or anybody while a link is taught.
import { plainAddress } from './addresses.js';

/** A transport as it is opened: as in a profile, or with ears for anybody. */
export type Opened<T> = T extends { readonly allowedSenders: string[] }
  ? Omit<T, 'allowedSenders'> & { readonly allowedSenders: readonly string[] | 'anybody' }
  : T;

/** @returns Tells whether an address, as a socket names it, is let in. */
export function letsIn(allowedSenders: readonly string[] | 'anybody'): (address: string) => boolean {
  if (allowedSenders === 'anybody') return () => true;
  const allowed = new Set(allowedSenders.map(plainAddress));
  return (address) => allowed.has(address) || allowed.has(plainAddress(address));
}
