// Frame check sequence of GDL 90: CRC-16 by table, as its interface document computes it.

const POLYNOMIAL = 0x1021;

const TABLE = Uint16Array.from({ length: 256 }, (_, index) => {
  let crc = index << 8;
  for (let bit = 0; bit < 8; bit += 1) crc = (crc & 0x8000) === 0 ? crc << 1 : (crc << 1) ^ POLYNOMIAL;
  return crc & 0xffff;
});

/**
 * The check sequence of a message, before byte stuffing. The byte goes in behind the table look-up, not before it as
 * in the usual form, so common CRC-16 routines give other values.
 *
 * @see GDL 90 Data Interface Specification, 560-1058-00 (public), section on the FCS calculation.
 */
export function gdl90Checksum(message: Uint8Array): number {
  let crc = 0;
  for (const byte of message) crc = ((TABLE[crc >> 8] ?? 0) ^ (crc << 8) ^ byte) & 0xffff;
  return crc;
}
