// Packets recorded from a registry library as the sending side, and an encoder of our own for what it never sends.
import { readFileSync } from 'node:fs';

interface LibraryPacket {
  readonly kind: string;
  readonly sender: string;
  readonly signed: boolean;
  readonly sent: Readonly<Record<string, number>>;
  readonly hex: string;
}

/** The file says which library, in which version. It is no dependency of this package, for its licence (LGPL) is not a permissive one. */
export const LIBRARY: { readonly frames: LibraryPacket[]; readonly heartbeat: string; readonly version1: string } =
  JSON.parse(readFileSync(new URL('libraryPackets.json', import.meta.url), 'utf8'));

export const fromHex = (hex: string) => Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

/** CRC-16/MCRF4XX bit by bit: reflected polynomial 0x8408, from 0xFFFF. */
export function crcOf(bytes: Iterable<number>): number {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >> 1) ^ 0x8408 : crc >> 1;
  }
  return crc;
}

/** A packet from its parts; zeros at the end of the payload are cut off, its first byte never. */
export function packet(
  messageId: number,
  crcExtra: number,
  payload: Uint8Array,
  { flags = 0, sender = [1, 1] }: { flags?: number; sender?: readonly [number, number] } = {},
): Uint8Array {
  let length = Math.min(payload.length, 255);
  while (length > 1 && payload[length - 1] === 0) length -= 1;
  const body = [length, flags, 0, 0, ...sender, messageId & 0xff, (messageId >> 8) & 0xff, messageId >> 16];
  const checked = [...body, ...payload.subarray(0, length)];
  const crc = crcOf([...checked, crcExtra]);
  return Uint8Array.from([0xfd, ...checked, crc & 0xff, crc >> 8]);
}
