// The open standards that are read, each with its decoder and what it tells of a flight.
import { decodeEntityState, ENTITY_STATE_COVERAGE } from './entityState/decodeEntityState.js';
import { decodeGdl90, GDL90_COVERAGE } from './gdl90/decodeGdl90.js';
import { decodeMavlink2, MAVLINK2_COVERAGE } from './mavlink2/decodeMavlink2.js';
import { decodeNmea0183, NMEA0183_COVERAGE } from './nmea0183/decodeNmea0183.js';
import type { StandardCoverage } from './standardCoverage.js';
import type { StandardDecoder } from './standards.js';

export interface OpenStandard {
  /** As people know it. */
  readonly name: string;
  readonly decode: StandardDecoder;
  readonly coverage: StandardCoverage;
  /** How `sender` of a message is made up, where several may send on one wire; '' where there can be one only. */
  readonly senderForm: string;
}

export type OpenStandardName = 'gdl90' | 'nmea0183' | 'entityState' | 'mavlink2';

export const OPEN_STANDARDS: Readonly<Record<OpenStandardName, OpenStandard>> = {
  gdl90: { name: 'GDL 90', decode: decodeGdl90, coverage: GDL90_COVERAGE, senderForm: '' },
  nmea0183: { name: 'NMEA 0183', decode: decodeNmea0183, coverage: NMEA0183_COVERAGE, senderForm: 'talker' },
  entityState: {
    name: 'IEEE 1278.1 entity state',
    decode: decodeEntityState,
    coverage: ENTITY_STATE_COVERAGE,
    senderForm: 'exercise:site:application:entity',
  },
  mavlink2: { name: 'MAVLink 2', decode: decodeMavlink2, coverage: MAVLINK2_COVERAGE, senderForm: 'system:component' },
};
