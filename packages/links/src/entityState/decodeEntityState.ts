// IEEE 1278.1 (distributed interactive simulation): datagrams to entity states.
import { coverageOf, gives, nearly } from '../standardCoverage.js';
import type { Refusal, StandardDecoded } from '../standards.js';
import { type EntityStateMessage, entityState } from './entityState.js';
import { pduViews } from './pdus.js';

const TYPE_AT = 2;
const ENTITY_STATE = 1;

/**
 * Reads entity state units of versions 5, 6 and 7, several in a datagram too; other units are passed over. A sender is
 * `exercise:site:application:entity`. Never throws.
 *
 * @see IEEE 1278.1-2012, entity state PDU.
 */
export function decodeEntityState(datagram: Uint8Array): StandardDecoded<EntityStateMessage> {
  const messages: EntityStateMessage[] = [];
  const refused: Refusal[] = [];
  let passedOver = 0;
  if (datagram.length === 0) refused.push({ reason: 'empty' });
  for (const unit of pduViews(datagram)) {
    if (typeof unit === 'string') refused.push({ reason: unit });
    else if (unit.getUint8(TYPE_AT) !== ENTITY_STATE) passedOver += 1;
    else {
      const message = entityState(unit, refused);
      if (message !== null) messages.push(message);
    }
  }
  return { messages, refused, passedOver };
}

const STATE = ['entityState'] as const;

/** What an entity state tells of a flight, and what it cannot. */
export const ENTITY_STATE_COVERAGE = coverageOf({
  timeS: gives(
    STATE,
    'Within the hour. Units come only when the flight leaves what was foretold, or every few seconds: set the sender’s thresholds so low that at least 20 come a second.',
  ),
  latitudeDeg: gives(STATE),
  longitudeDeg: gives(STATE),
  altitudeFt: nearly(
    STATE,
    'Above the WGS 84 ellipsoid, up to 350 ft from sea level and the same all round an airfield: set to zero on the ground.',
  ),
  headingDeg: gives(STATE),
  pitchDeg: gives(STATE),
  bankDeg: gives(STATE),
  groundspeedKt: gives(STATE),
  trackDeg: gives(STATE),
  verticalSpeedFpm: gives(STATE),
});
