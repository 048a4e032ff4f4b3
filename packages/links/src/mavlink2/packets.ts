// A datagram of MAVLink 2 cut into packets whose check sum fits.
import type { Refusal } from '../standards.js';

const START = 0xfd;
const START_VERSION_1 = 0xfe;
const HEADER_BYTES = 10;
const CHECKSUM_BYTES = 2;
const SIGNATURE_BYTES = 13;
const SIGNED = 0x01;

/** What must be known of a kind of message to check its packets. */
export interface PacketKind {
  readonly kind: string;
  /** The seed that stands for the message's definition: sender and receiver must mean the same fields. */
  readonly crcExtra: number;
  /** Of the whole payload, without extensions. */
  readonly payloadBytes: number;
}

export interface Packet<Kind extends PacketKind> {
  readonly kind: Kind;
  /** `system:component`. */
  readonly sender: string;
  /** At full length: zeros that the sender cut off are there again. */
  readonly payload: DataView;
}

/**
 * The packets of a datagram in order; null for one of a kind that is not known, which cannot be checked.
 *
 * A signature is stepped over, not verified: no key is shared with the sender.
 *
 * @see MAVLink Developer Guide, "Packet Serialization".
 */
export function mavlinkPackets<Kind extends PacketKind>(
  datagram: Uint8Array,
  kindOf: (messageId: number) => Kind | undefined,
): (Packet<Kind> | Refusal | null)[] {
  const packets: (Packet<Kind> | Refusal | null)[] = [];
  let at = 0;
  while (at < datagram.length) {
    if (datagram[at] !== START) {
      packets.push({ reason: datagram[at] === START_VERSION_1 ? 'version' : 'no-start' });
      at = datagram.indexOf(START, at);
      if (at < 0) break;
    }
    const view = new DataView(datagram.buffer, datagram.byteOffset + at, datagram.length - at);
    const bytes = packetBytes(view);
    if (bytes === null) {
      packets.push({ reason: 'cut-off' });
      break;
    }
    packets.push(checked(view, kindOf(view.getUint16(7, true) | (view.getUint8(9) << 16))));
    at += bytes;
  }
  return packets;
}

/** Length of the packet at the start of the view, or null where the view ends before it. */
function packetBytes(view: DataView): number | null {
  if (view.byteLength < HEADER_BYTES) return null;
  const signature = (view.getUint8(2) & SIGNED) === 0 ? 0 : SIGNATURE_BYTES;
  const bytes = HEADER_BYTES + view.getUint8(1) + CHECKSUM_BYTES + signature;
  return bytes <= view.byteLength ? bytes : null;
}

function checked<Kind extends PacketKind>(view: DataView, kind: Kind | undefined): Packet<Kind> | Refusal | null {
  if (kind === undefined) return null;
  // A flag that the receiver does not know may mean that the packet reads otherwise.
  if ((view.getUint8(2) & ~SIGNED) !== 0) return { reason: 'flags', kind: kind.kind };
  const end = HEADER_BYTES + view.getUint8(1);
  let crc = 0xffff;
  for (let index = 1; index < end; index += 1) crc = accumulated(crc, view.getUint8(index));
  crc = accumulated(crc, kind.crcExtra);
  if (crc !== view.getUint16(end, true)) return { reason: 'checksum', kind: kind.kind };
  const payload = new Uint8Array(kind.payloadBytes);
  const sent = Math.min(view.getUint8(1), kind.payloadBytes); // extensions follow the fields read here
  payload.set(new Uint8Array(view.buffer, view.byteOffset + HEADER_BYTES, sent));
  return { kind, sender: `${view.getUint8(5)}:${view.getUint8(6)}`, payload: new DataView(payload.buffer) };
}

/** CRC-16/MCRF4XX, as the guide computes it, one byte on. */
function accumulated(crc: number, byte: number): number {
  const low = (byte ^ crc) & 0xff;
  const mixed = (low ^ (low << 4)) & 0xff;
  return ((crc >> 8) ^ (mixed << 8) ^ (mixed << 3) ^ (mixed >> 4)) & 0xffff;
}
