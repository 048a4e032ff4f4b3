// MAVLink 2: datagrams to messages.
import { coverageOf, gives } from '../standardCoverage.js';
import type { Refusal, StandardDecoded } from '../standards.js';
import { MAVLINK_KINDS, type MavlinkMessage } from './messages.js';
import { mavlinkPackets } from './packets.js';

/**
 * Reads ATTITUDE, GLOBAL_POSITION_INT, VFR_HUD and SYSTEM_TIME; other messages are passed over unchecked. A sender is
 * `system:component`. Signatures are not verified. Never throws.
 *
 * @see MAVLink Developer Guide, "Packet Serialization" and "MAVLink Common Message Set".
 */
export function decodeMavlink2(datagram: Uint8Array): StandardDecoded<MavlinkMessage> {
  const messages: MavlinkMessage[] = [];
  const refused: Refusal[] = [];
  let passedOver = 0;
  if (datagram.length === 0) refused.push({ reason: 'empty' });
  for (const packet of mavlinkPackets(datagram, (messageId) => MAVLINK_KINDS.get(messageId))) {
    if (packet === null) passedOver += 1;
    else if ('reason' in packet) refused.push(packet);
    else messages.push(packet.kind.read(packet.payload, packet.sender, refused));
  }
  return { messages, refused, passedOver };
}

const POSITION = ['GLOBAL_POSITION_INT'] as const;
const ATTITUDE = ['ATTITUDE'] as const;

/** What MAVLink 2 tells of a flight, and what it cannot. */
export const MAVLINK2_COVERAGE = coverageOf({
  timeS: gives(
    [...ATTITUDE, ...POSITION, 'SYSTEM_TIME'],
    'Since the sender was started; VFR_HUD has none. Ask the sender for at least 20 of each message a second.',
  ),
  latitudeDeg: gives(POSITION),
  longitudeDeg: gives(POSITION),
  altitudeFt: gives(POSITION, 'Above mean sea level.'),
  indicatedAirspeedKt: gives(['VFR_HUD'], 'Calibrated or indicated, as the sender has it.'),
  headingDeg: gives(ATTITUDE),
  pitchDeg: gives(ATTITUDE),
  bankDeg: gives(ATTITUDE),
  groundspeedKt: gives(POSITION),
  trackDeg: gives(POSITION),
  verticalSpeedFpm: gives(POSITION, 'In steps of 2 ft/min.'),
});
