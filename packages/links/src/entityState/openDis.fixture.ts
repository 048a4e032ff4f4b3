// The registry's library for IEEE 1278.1 (open-dis 1.3.6) as the sending side of tests.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

interface Xyz {
  x: number;
  y: number;
  z: number;
}
/** Names as the library has them; the two editions differ in some, and in the order of none. */
interface Pdu {
  protocolVersion: number;
  exerciseID: number;
  timestamp: number;
  length?: number;
  pduLength?: number;
  numberOfVariableParameters?: number;
  numberOfArticulationParameters?: number;
  entityID: Record<string, number>;
  entityType: Record<string, number>;
  entityLinearVelocity: Xyz;
  entityLocation: Xyz;
  entityOrientation: { psi: number; theta: number; phi: number };
  deadReckoningParameters: { deadReckoningAlgorithm: number };
  marking: { characterSet: number; characters: number[] };
  encodeToBinary(stream: Stream): void;
}
interface Stream {
  toByteArray(): ArrayBuffer;
}
interface OpenDis {
  EntityStatePdu: new () => Pdu;
  FirePdu: new () => Pdu & { pduType: number };
  OutputStream: new (buffer: ArrayBuffer) => Stream;
  CoordinateConversion: new () => {
    getXYZfromLatLonAltDegrees(place: { lat: number; lon: number; alt: number }): Xyz;
  };
}

/** The library keeps its classes in a variable without declaration, which module code refuses: it gets one here. */
function load(edition: 'dis6' | 'dis7'): OpenDis {
  const from = createRequire(import.meta.url);
  const source = readFileSync(from.resolve(`open-dis/dist/${edition}.min.js`), 'utf8');
  const exported = {};
  new Function('dis', 'exports', 'require', source)({}, exported, from);
  return exported as OpenDis;
}

const EDITIONS = { 6: load('dis6'), 7: load('dis7') } as const;

export interface Sent {
  readonly version: 6 | 7;
  readonly ids: readonly [exercise: number, site: number, application: number, entity: number];
  readonly timestamp: number;
  /** Earth-fixed, m. */
  readonly location: Xyz;
  /** Earth-fixed, or the body's axes where dead reckoning is 6 to 9; m/s. */
  readonly velocity: Xyz;
  /** Euler angles, rad. */
  readonly orientation: readonly [psi: number, theta: number, phi: number];
  readonly deadReckoning: number;
  readonly marking: string;
}

/** An entity state unit as the library encodes it. */
export function encoded(sent: Sent): Uint8Array {
  const { EntityStatePdu, OutputStream } = EDITIONS[sent.version];
  const pdu = new EntityStatePdu();
  const [exercise, site, application, entity] = sent.ids;
  pdu.exerciseID = exercise;
  pdu.timestamp = sent.timestamp;
  pdu[sent.version === 7 ? 'length' : 'pduLength'] = 144;
  Object.assign(pdu.entityID, {
    site,
    siteID: site,
    application,
    applicationID: application,
    entity,
    entityID: entity,
  });
  Object.assign(pdu.entityType, { entityKind: 1, domain: 2 });
  pdu.entityLocation = Object.assign(pdu.entityLocation, sent.location);
  Object.assign(pdu.entityLinearVelocity, sent.velocity);
  const [psi, theta, phi] = sent.orientation;
  Object.assign(pdu.entityOrientation, { psi, theta, phi });
  pdu.deadReckoningParameters.deadReckoningAlgorithm = sent.deadReckoning;
  pdu.marking.characterSet = 1;
  pdu.marking.characters = Array.from({ length: 11 }, (_, index) => sent.marking.charCodeAt(index) || 0);
  const stream = new OutputStream(new ArrayBuffer(500));
  pdu.encodeToBinary(stream);
  return new Uint8Array(stream.toByteArray());
}

/** Earth-fixed coordinates of a place, by the library. */
export function earthFixed(lat: number, lon: number, alt: number): Xyz {
  return new EDITIONS[7].CoordinateConversion().getXYZfromLatLonAltDegrees({ lat, lon, alt });
}
