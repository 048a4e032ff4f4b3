// A datagram of GDL 90 cut into messages: flags, byte stuffing, check sequence.
import type { RefusalReason } from '../standards.js';
import { gdl90Checksum } from './checksum.js';

const FLAG = 0x7e;
const ESCAPE = 0x7d;
const ESCAPE_XOR = 0x20;
const CHECKSUM_BYTES = 2;

/** The messages between flags, without stuffing and check sequence, or why one is refused. */
export function gdl90Frames(datagram: Uint8Array): (Uint8Array | RefusalReason)[] {
  const frames: (Uint8Array | RefusalReason)[] = [];
  let flag = datagram.indexOf(FLAG);
  if (flag !== 0 && datagram.length > 0) frames.push('no-start');
  while (flag >= 0 && flag + 1 < datagram.length) {
    const next = datagram.indexOf(FLAG, flag + 1);
    if (next < 0) frames.push('cut-off');
    // Two flags in a row are the end of one message and the start of another.
    else if (next > flag + 1) frames.push(checkedMessage(datagram.subarray(flag + 1, next)));
    flag = next;
  }
  return frames;
}

function checkedMessage(stuffed: Uint8Array): Uint8Array | RefusalReason {
  const clear = withoutStuffing(stuffed);
  if (clear === null) return 'escape';
  const end = clear.length - CHECKSUM_BYTES;
  if (end < 1) return 'cut-off';
  const message = clear.subarray(0, end);
  const told = (clear[end] ?? 0) | ((clear[end + 1] ?? 0) << 8); // least significant byte first
  return told === gdl90Checksum(message) ? message : 'checksum';
}

function withoutStuffing(stuffed: Uint8Array): Uint8Array | null {
  const clear = new Uint8Array(stuffed.length);
  let length = 0;
  for (let index = 0; index < stuffed.length; index += 1) {
    let byte = stuffed[index] ?? 0;
    if (byte === ESCAPE) {
      index += 1;
      const escaped = stuffed[index];
      if (escaped === undefined) return null;
      byte = escaped ^ ESCAPE_XOR;
    }
    clear[length] = byte;
    length += 1;
  }
  return clear.subarray(0, length);
}
