// A datagram of IEEE 1278.1 cut into protocol data units, each as long as its header says.
import type { RefusalReason } from '../standards.js';

const HEADER_BYTES = 12;
const LENGTH_AT = 8;
/** Versions whose header and entity state have the layout read here: IEEE 1278.1-1995, 1278.1A-1998, 1278.1-2012. */
const VERSIONS: ReadonlySet<number> = new Set([5, 6, 7]);

/** The units of a datagram, or why one is refused; what follows one of a wrong length cannot be found. */
export function pduViews(datagram: Uint8Array): (DataView | RefusalReason)[] {
  const units: (DataView | RefusalReason)[] = [];
  let at = 0;
  while (at < datagram.length) {
    const left = datagram.length - at;
    if (!VERSIONS.has(datagram[at] ?? 0)) return [...units, at === 0 ? 'version' : 'no-start'];
    if (left < HEADER_BYTES) return [...units, 'cut-off'];
    const view = new DataView(datagram.buffer, datagram.byteOffset + at, left);
    const length = view.getUint16(LENGTH_AT);
    if (length < HEADER_BYTES) return [...units, 'length'];
    if (length > left) return [...units, 'cut-off'];
    units.push(new DataView(datagram.buffer, datagram.byteOffset + at, length));
    at += length;
    // Bundled units may be filled up with zeros to whole eights of bytes.
    while (at % 8 !== 0 && datagram[at] === 0) at += 1;
  }
  return units;
}
