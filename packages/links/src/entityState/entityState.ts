// One entity state unit of IEEE 1278.1: which entity, where, how fast, how it lies.
import { channelsFrom, compassDeg, groundVelocity, present } from '../standardChannels.js';
import type { Refusal, StandardMessage } from '../standards.js';
import { attitudeOf, type BodyAxes, bodyAxes } from './attitude.js';
import { dot, localAxes, placeOf, type Vector } from './earth.js';

// IEEE 1278.1-2012, entity state PDU: offsets in bytes, all numbers most significant byte first.
const FIXED_BYTES = 144;
const PARAMETER_BYTES = 16;
const PARAMETERS_AT = 19;
const VELOCITY_AT = 36;
const LOCATION_AT = 48;
const ORIENTATION_AT = 72;
const RECKONING_AT = 88;
const MARKING_AT = 128;
const MARKING_CHARACTERS = 11;
const ASCII = 1;
const SECONDS_PER_HOUR = 3600;
/** Dead reckoning 6 to 9 goes on in the body's axes, and so does the velocity sent with it. */
const FIRST_IN_BODY_AXES = 6;
const LAST_IN_BODY_AXES = 9;
const DEG_PER_RAD = 180 / Math.PI;

export interface EntityStateFields {
  readonly exerciseId: number;
  readonly siteId: number;
  readonly applicationId: number;
  readonly entityId: number;
  readonly entityKind: number;
  readonly entityDomain: number;
  readonly marking?: string;
  /** The clock of the sender is set by UTC; otherwise it began anywhere. */
  readonly absoluteTime: boolean;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Above the WGS 84 ellipsoid, not above sea level. */
  readonly ellipsoidHeightM: number;
  readonly headingDeg?: number;
  readonly pitchDeg?: number;
  readonly bankDeg?: number;
  readonly northMps?: number;
  readonly eastMps?: number;
  readonly downMps?: number;
  readonly deadReckoning: number;
}

export type EntityStateMessage = StandardMessage<'entityState', EntityStateFields>;

const KIND = 'entityState';

/** Reads a unit whose header says that it is an entity state; null where the whole of it is refused. */
export function entityState(view: DataView, refused: Refusal[]): EntityStateMessage | null {
  const refuse = (reason: Refusal['reason'], field?: string) => {
    refused.push({ reason, kind: KIND, ...(field !== undefined && { field }) });
    return null;
  };
  if (view.byteLength < FIXED_BYTES) return refuse('length');
  if (view.byteLength !== FIXED_BYTES + PARAMETER_BYTES * view.getUint8(PARAMETERS_AT)) return refuse('length');
  const place = placeOf(doubles(view, LOCATION_AT));
  if (place === null) return refuse('place');

  const local = localAxes(place);
  const [psi, theta, phi] = floats(view, ORIENTATION_AT);
  const body = [psi, theta, phi].every(Number.isFinite) ? bodyAxes(psi, theta, phi) : undefined;
  if (body === undefined) refuse('field', 'orientation');
  const attitude = body && attitudeOf(body, local);
  const deadReckoning = view.getUint8(RECKONING_AT);
  const velocity = earthVelocity(floats(view, VELOCITY_AT), deadReckoning, body);
  if (velocity === undefined) refuse('field', 'velocity');
  const over = velocity && groundVelocity(dot(local.north, velocity), dot(local.east, velocity));

  const ids = [view.getUint8(1), view.getUint16(12), view.getUint16(14), view.getUint16(16)] as const;
  const timestamp = view.getUint32(4);
  const fields = present<EntityStateFields>({
    exerciseId: ids[0],
    siteId: ids[1],
    applicationId: ids[2],
    entityId: ids[3],
    entityKind: view.getUint8(20),
    entityDomain: view.getUint8(21),
    marking: marking(view),
    absoluteTime: (timestamp & 1) === 1,
    latitudeDeg: place.latitudeRad * DEG_PER_RAD,
    longitudeDeg: place.longitudeRad * DEG_PER_RAD,
    ellipsoidHeightM: place.ellipsoidHeightM,
    headingDeg: attitude && compassDeg(attitude.headingRad * DEG_PER_RAD),
    pitchDeg: attitude && attitude.pitchRad * DEG_PER_RAD,
    bankDeg: attitude && attitude.bankRad * DEG_PER_RAD,
    northMps: velocity && dot(local.north, velocity),
    eastMps: velocity && dot(local.east, velocity),
    downMps: velocity && dot(local.down, velocity),
    deadReckoning,
  });
  return {
    kind: KIND,
    sender: ids.join(':'),
    // 31 bits of an hour above the bit for absolute time.
    time: { seconds: ((timestamp >>> 1) / 2 ** 31) * SECONDS_PER_HOUR, periodS: SECONDS_PER_HOUR },
    channels: channelsFrom(
      KIND,
      [
        ['latitudeDeg', fields.latitudeDeg, 'deg'],
        ['longitudeDeg', fields.longitudeDeg, 'deg'],
        ['altitudeFt', fields.ellipsoidHeightM, 'm'],
        ['headingDeg', fields.headingDeg, 'deg'],
        ['pitchDeg', fields.pitchDeg, 'deg'],
        ['bankDeg', fields.bankDeg, 'deg'],
        ['groundspeedKt', over?.groundspeedMps, 'm/s'],
        ['trackDeg', over?.trackDeg, 'deg'],
        ['verticalSpeedFpm', fields.downMps === undefined ? undefined : -fields.downMps, 'm/s'],
      ],
      refused,
    ),
    fields,
  };
}

function doubles(view: DataView, at: number): Vector {
  return [view.getFloat64(at), view.getFloat64(at + 8), view.getFloat64(at + 16)];
}

function floats(view: DataView, at: number): Vector {
  return [view.getFloat32(at), view.getFloat32(at + 4), view.getFloat32(at + 8)];
}

/** Velocity in earth-fixed components, m/s; undefined where it is not finite or the axes it is given in are unknown. */
function earthVelocity(told: Vector, deadReckoning: number, body: BodyAxes | undefined): Vector | undefined {
  if (!told.every(Number.isFinite)) return undefined;
  if (deadReckoning < FIRST_IN_BODY_AXES || deadReckoning > LAST_IN_BODY_AXES) return told;
  if (body === undefined) return undefined;
  const along = (axis: 0 | 1 | 2) =>
    told[0] * body.forward[axis] + told[1] * body.right[axis] + told[2] * body.down[axis];
  return [along(0), along(1), along(2)];
}

function marking(view: DataView): string | undefined {
  if (view.getUint8(MARKING_AT) !== ASCII) return undefined;
  let text = '';
  for (let index = 1; index <= MARKING_CHARACTERS; index += 1) {
    const code = view.getUint8(MARKING_AT + index);
    if (code === 0) break;
    if (code < 0x20 || code > 0x7e) return undefined;
    text += String.fromCharCode(code);
  }
  return text.trim() === '' ? undefined : text.trim();
}
