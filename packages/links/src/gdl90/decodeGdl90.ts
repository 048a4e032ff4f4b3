// GDL 90: datagrams to messages. Only what its public interface document defines.
import { coverageOf, gives, nearly } from '../standardCoverage.js';
import type { Refusal, StandardDecoded } from '../standards.js';
import { gdl90Frames } from './frames.js';
import { GDL90_READERS, type Gdl90Message } from './messages.js';

/**
 * Reads heartbeat, ownship report and ownship geometric altitude; other messages are passed over. A message must lie
 * whole within one datagram. Never throws.
 *
 * @see GDL 90 Data Interface Specification, 560-1058-00 (public).
 */
export function decodeGdl90(datagram: Uint8Array): StandardDecoded<Gdl90Message> {
  const messages: Gdl90Message[] = [];
  const refused: Refusal[] = [];
  let passedOver = 0;
  const frames = gdl90Frames(datagram);
  if (frames.length === 0) refused.push({ reason: 'empty' });
  for (const frame of frames) {
    if (typeof frame === 'string') {
      refused.push({ reason: frame });
      continue;
    }
    const reader = GDL90_READERS.get(frame[0] ?? -1);
    if (reader === undefined) passedOver += 1;
    else if (frame.length !== reader.length) refused.push({ reason: 'length', kind: reader.kind });
    else messages.push(reader.read(new DataView(frame.buffer, frame.byteOffset, frame.length), refused));
  }
  return { messages, refused, passedOver };
}

const OWNSHIP = ['ownshipReport'] as const;

/** What GDL 90 tells of a flight, and what it cannot. */
export const GDL90_COVERAGE = coverageOf({
  timeS: nearly(
    ['heartbeat'],
    'Whole seconds, told once a second apart from the position: use the time of arrival for anything faster.',
  ),
  latitudeDeg: gives(OWNSHIP, 'In steps of 2.4 m.'),
  longitudeDeg: gives(OWNSHIP, 'In steps of up to 2.4 m.'),
  altitudeFt: nearly(
    ['ownshipGeometricAltitude'],
    'Above the WGS 84 ellipsoid, up to 350 ft from sea level and the same all round an airfield: set to zero on the ground. In steps of 5 ft.',
  ),
  groundspeedKt: gives(OWNSHIP, 'In steps of 1 kt.'),
  trackDeg: gives(OWNSHIP, 'In steps of 1.4°, and only if the sender gives track instead of heading.'),
  headingDeg: gives(OWNSHIP, 'In steps of 1.4°, and only if the sender gives true heading instead of track.'),
  verticalSpeedFpm: gives(OWNSHIP, 'In steps of 64 ft/min.'),
  onGround: gives(OWNSHIP),
});
