// The messages of GDL 90 that tell of the own aeroplane: heartbeat, ownship report, ownship geometric altitude.
import { channelsFrom, present } from '../standardChannels.js';
import type { Refusal, StandardMessage } from '../standards.js';

// GDL 90 Data Interface Specification, 560-1058-00 (public), sections on heartbeat, ownship report (with the fields of
// the traffic report) and ownship geometric altitude.
const SECONDS_PER_DAY = 86_400;
const SEMICIRCLE_DEG = 180 / 2 ** 23;
const CIRCLE_BYTE_DEG = 360 / 256;
const ALTITUDE_STEP_FT = 25;
const ALTITUDE_ZERO_FT = -1000;
const ALTITUDE_UNKNOWN = 0xfff;
const SPEED_OFF_SCALE = 0xffe; // and 0xfff: unknown
const VERTICAL_STEP_FPM = 64;
const VERTICAL_LIMIT = 509; // beyond: off the scale, unused, or unknown
const GEOMETRIC_STEP_FT = 5;
const ACCURACY_OFF_SCALE = 0x7ffe; // and 0x7fff: unknown
const CALL_SIGN = /^[0-9A-Z ]*$/;

export interface HeartbeatFields {
  readonly gpsPositionValid: boolean;
  readonly utcValid: boolean;
  /** Since midnight UTC. */
  readonly timeOfDayS?: number;
}

export interface OwnshipFields {
  readonly addressType: number;
  readonly address: number;
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  /** By the standard atmosphere (1013.25 hPa), not above sea level. */
  readonly pressureAltitudeFt?: number;
  readonly airborne: boolean;
  /** Reckoned on from an older position. */
  readonly extrapolated: boolean;
  readonly trueTrackDeg?: number;
  readonly trueHeadingDeg?: number;
  readonly magneticHeadingDeg?: number;
  readonly integrityCategory: number;
  readonly accuracyCategory: number;
  readonly groundspeedKt?: number;
  readonly verticalSpeedFpm?: number;
  readonly emitterCategory: number;
  readonly callSign?: string;
  readonly emergencyCode: number;
}

export interface GeometricAltitudeFields {
  /** Above the WGS 84 ellipsoid, not above sea level. */
  readonly ellipsoidHeightFt: number;
  readonly verticalWarning: boolean;
  readonly verticalAccuracyM?: number;
}

export type Gdl90Message =
  | StandardMessage<'heartbeat', HeartbeatFields>
  | StandardMessage<'ownshipReport', OwnshipFields>
  | StandardMessage<'ownshipGeometricAltitude', GeometricAltitudeFields>;

type Reader = (view: DataView, refused: Refusal[]) => Gdl90Message;

/** By message identity: its length with the identity byte, and how it reads. */
export const GDL90_READERS: ReadonlyMap<number, { readonly kind: Gdl90Message['kind']; length: number; read: Reader }> =
  new Map([
    [0, { kind: 'heartbeat', length: 7, read: heartbeat }],
    [10, { kind: 'ownshipReport', length: 28, read: ownshipReport }],
    [11, { kind: 'ownshipGeometricAltitude', length: 5, read: geometricAltitude }],
  ]);

function heartbeat(view: DataView): Gdl90Message {
  const status1 = view.getUint8(1);
  const status2 = view.getUint8(2);
  const told = view.getUint16(3, true) + (status2 & 0x80 ? 0x10000 : 0);
  const timeOfDayS = told <= SECONDS_PER_DAY ? told : undefined; // 86 400 is a leap second
  const utcValid = (status2 & 0x01) !== 0;
  return {
    kind: 'heartbeat',
    sender: '',
    ...(utcValid && timeOfDayS !== undefined && { time: { seconds: timeOfDayS, periodS: SECONDS_PER_DAY } }),
    channels: {},
    fields: present<HeartbeatFields>({ gpsPositionValid: (status1 & 0x80) !== 0, utcValid, timeOfDayS }),
  };
}

function ownshipReport(view: DataView, refused: Refusal[]): Gdl90Message {
  const kind = 'ownshipReport';
  const latitude = signed24(view, 5);
  const longitude = signed24(view, 8);
  const altitude = view.getUint16(11) >> 4;
  const misc = view.getUint8(12) & 0x0f;
  const integrityCategory = view.getUint8(13) >> 4;
  const speed = view.getUint16(14) >> 4;
  const vertical = ((view.getUint16(15) & 0x0fff) << 20) >> 20;
  const direction = view.getUint8(17) * CIRCLE_BYTE_DEG;
  const directionType = misc & 0x03;
  // All three zero: the sender has no position.
  const placed = latitude !== 0 || longitude !== 0 || integrityCategory !== 0;
  const callSign = String.fromCharCode(...new Uint8Array(view.buffer, view.byteOffset + 19, 8)).trimEnd();

  const fields = present<OwnshipFields>({
    addressType: view.getUint8(1) & 0x0f,
    address: (view.getUint16(2) << 8) | view.getUint8(4),
    latitudeDeg: placed ? latitude * SEMICIRCLE_DEG : undefined,
    longitudeDeg: placed ? longitude * SEMICIRCLE_DEG : undefined,
    pressureAltitudeFt: altitude === ALTITUDE_UNKNOWN ? undefined : altitude * ALTITUDE_STEP_FT + ALTITUDE_ZERO_FT,
    airborne: (misc & 0x08) !== 0,
    extrapolated: (misc & 0x04) !== 0,
    trueTrackDeg: directionType === 1 ? direction : undefined,
    magneticHeadingDeg: directionType === 2 ? direction : undefined,
    trueHeadingDeg: directionType === 3 ? direction : undefined,
    integrityCategory,
    accuracyCategory: view.getUint8(13) & 0x0f,
    groundspeedKt: speed >= SPEED_OFF_SCALE ? undefined : speed,
    verticalSpeedFpm: Math.abs(vertical) > VERTICAL_LIMIT ? undefined : vertical * VERTICAL_STEP_FPM,
    emitterCategory: view.getUint8(18),
    callSign: callSign !== '' && CALL_SIGN.test(callSign) ? callSign : undefined,
    emergencyCode: view.getUint8(27) >> 4,
  });
  const channels = channelsFrom(
    kind,
    [
      ['latitudeDeg', fields.latitudeDeg, 'deg'],
      ['longitudeDeg', fields.longitudeDeg, 'deg'],
      ['groundspeedKt', fields.groundspeedKt, 'kt'],
      ['trackDeg', fields.trueTrackDeg, 'deg'],
      ['headingDeg', fields.trueHeadingDeg, 'deg'],
      ['verticalSpeedFpm', fields.verticalSpeedFpm, 'ft/min'],
    ],
    refused,
  );
  return { kind, sender: '', channels: { ...channels, onGround: !fields.airborne }, fields };
}

function geometricAltitude(view: DataView, refused: Refusal[]): Gdl90Message {
  const kind = 'ownshipGeometricAltitude';
  const ellipsoidHeightFt = view.getInt16(1) * GEOMETRIC_STEP_FT;
  const metrics = view.getUint16(3);
  const accuracy = metrics & 0x7fff;
  return {
    kind,
    sender: '',
    channels: channelsFrom(kind, [['altitudeFt', ellipsoidHeightFt, 'ft']], refused),
    fields: present<GeometricAltitudeFields>({
      ellipsoidHeightFt,
      verticalWarning: (metrics & 0x8000) !== 0,
      verticalAccuracyM: accuracy >= ACCURACY_OFF_SCALE ? undefined : accuracy,
    }),
  };
}

function signed24(view: DataView, offset: number): number {
  return (view.getInt16(offset) << 8) | view.getUint8(offset + 2);
}
