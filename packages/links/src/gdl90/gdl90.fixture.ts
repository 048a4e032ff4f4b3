// Messages of GDL 90 from their contents: an encoder for tests, its check sum by long division bit by bit.

/** Remainder of the bytes, as one polynomial over GF(2), by x¹⁶ + x¹² + x⁵ + 1. */
export function remainder(bytes: Uint8Array): number {
  let rest = 0;
  for (const byte of bytes) {
    for (let bit = 7; bit >= 0; bit -= 1) {
      rest = (rest << 1) | ((byte >> bit) & 1);
      if (rest & 0x10000) rest ^= 0x11021;
    }
  }
  return rest;
}

/** Content with check sum, stuffing and flags. */
export function framed(content: Uint8Array): Uint8Array {
  const check = remainder(content);
  const clear = [...content, check & 0xff, check >> 8];
  return Uint8Array.from([
    0x7e,
    ...clear.flatMap((byte) => (byte === 0x7e || byte === 0x7d ? [0x7d, byte ^ 0x20] : [byte])),
    0x7e,
  ]);
}

export const hexBytes = (hex: string) => Uint8Array.from(hex.trim().split(/\s+/), (pair) => Number.parseInt(pair, 16));

// GDL 90 Data Interface Specification, 560-1058-00 (public), section on message structure: the example
// heartbeat with flags and FCS.
export const HEARTBEAT_FRAME = '7E 00 81 41 DB D0 08 02 B3 8B 7E';
// The example traffic report of section 3.5.4 with the ownship report's identity, whose fields are the same: from memory.
export const OWNSHIP_CONTENT = '0A 00 AB 45 49 1F EF 15 A8 89 78 0F 09 A9 07 B0 01 20 01 4E 38 32 35 56 20 20 20 00';
