// The messages of MAVLink's common set that tell of a flight: ATTITUDE, GLOBAL_POSITION_INT, VFR_HUD, SYSTEM_TIME.
import { channelsFrom, compassDeg, groundVelocity, present } from '../standardChannels.js';
import type { Refusal, StandardMessage, StandardTime } from '../standards.js';
import type { PacketKind } from './packets.js';

// MAVLink common message set (public definitions, MIT licence): fields in wire order, little-endian.
const DEG_PER_RAD = 180 / Math.PI;
const BOOT_PERIOD_S = 2 ** 32 / 1000;
const HEADING_UNKNOWN_FROM = 36_000; // hundredths of a degree; 65 535 says unknown
const FULL_THROTTLE = 100;

export interface AttitudeFields {
  readonly timeSinceBootS: number;
  /** Right wing down positive. */
  readonly rollRad?: number;
  readonly pitchRad?: number;
  readonly yawRad?: number;
  readonly rollRateRadps?: number;
  readonly pitchRateRadps?: number;
  readonly yawRateRadps?: number;
}

export interface GlobalPositionFields {
  readonly timeSinceBootS: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Above mean sea level. */
  readonly altitudeM: number;
  /** Above the place that the sender calls home, commonly where it was started. */
  readonly heightAboveHomeM: number;
  readonly northMps: number;
  readonly eastMps: number;
  readonly downMps: number;
  readonly headingDeg?: number;
}

export interface VfrHudFields {
  /** Calibrated or indicated, as the sender has it. */
  readonly airspeedMps?: number;
  readonly groundspeedMps?: number;
  /** Above mean sea level. */
  readonly altitudeM?: number;
  readonly climbMps?: number;
  readonly headingDeg?: number;
  /** Where the lever stands, not what the engine gives. */
  readonly throttlePercent?: number;
}

export interface SystemTimeFields {
  readonly timeSinceBootS: number;
  /** Seconds since 1970; absent where the sender has no clock (0). */
  readonly unixTimeS?: number;
}

export type MavlinkMessage =
  | StandardMessage<'ATTITUDE', AttitudeFields>
  | StandardMessage<'GLOBAL_POSITION_INT', GlobalPositionFields>
  | StandardMessage<'VFR_HUD', VfrHudFields>
  | StandardMessage<'SYSTEM_TIME', SystemTimeFields>;

export interface MavlinkKind extends PacketKind {
  readonly kind: MavlinkMessage['kind'];
  readonly read: (payload: DataView, sender: string, refused: Refusal[]) => MavlinkMessage;
}

/** By message identity. Each channel comes from one kind alone, so that it does not jump between two roundings. */
export const MAVLINK_KINDS: ReadonlyMap<number, MavlinkKind> = new Map([
  [2, { kind: 'SYSTEM_TIME', crcExtra: 137, payloadBytes: 12, read: systemTime }],
  [30, { kind: 'ATTITUDE', crcExtra: 39, payloadBytes: 28, read: attitude }],
  [33, { kind: 'GLOBAL_POSITION_INT', crcExtra: 104, payloadBytes: 28, read: globalPosition }],
  [74, { kind: 'VFR_HUD', crcExtra: 20, payloadBytes: 20, read: vfrHud }],
]);

function systemTime(payload: DataView, sender: string): MavlinkMessage {
  const unixTimeS = Number(payload.getBigUint64(0, true)) / 1e6;
  const time = bootTime(payload, 8);
  const fields = { timeSinceBootS: time.seconds, ...(unixTimeS !== 0 && { unixTimeS }) };
  return { kind: 'SYSTEM_TIME', sender, time, channels: {}, fields };
}

function attitude(payload: DataView, sender: string, refused: Refusal[]): MavlinkMessage {
  const kind = 'ATTITUDE';
  const time = bootTime(payload, 0);
  const angle = (at: number) => finite(payload.getFloat32(at, true));
  const fields = present<AttitudeFields>({
    timeSinceBootS: time.seconds,
    rollRad: angle(4),
    pitchRad: angle(8),
    yawRad: angle(12),
    rollRateRadps: angle(16),
    pitchRateRadps: angle(20),
    yawRateRadps: angle(24),
  });
  const channels = channelsFrom(
    kind,
    [
      ['bankDeg', fields.rollRad, 'rad'],
      ['pitchDeg', fields.pitchRad, 'rad'],
      ['headingDeg', fields.yawRad === undefined ? undefined : compassDeg(fields.yawRad * DEG_PER_RAD), 'deg'],
    ],
    refused,
  );
  return { kind, sender, time, channels, fields };
}

function globalPosition(payload: DataView, sender: string, refused: Refusal[]): MavlinkMessage {
  const kind = 'GLOBAL_POSITION_INT';
  const time = bootTime(payload, 0);
  const heading = payload.getUint16(26, true);
  const fields = present<GlobalPositionFields>({
    timeSinceBootS: time.seconds,
    latitudeDeg: payload.getInt32(4, true) / 1e7,
    longitudeDeg: payload.getInt32(8, true) / 1e7,
    altitudeM: payload.getInt32(12, true) / 1000,
    heightAboveHomeM: payload.getInt32(16, true) / 1000,
    northMps: payload.getInt16(20, true) / 100,
    eastMps: payload.getInt16(22, true) / 100,
    downMps: payload.getInt16(24, true) / 100,
    headingDeg: heading < HEADING_UNKNOWN_FROM ? heading / 100 : undefined,
  });
  const over = groundVelocity(fields.northMps, fields.eastMps);
  const channels = channelsFrom(
    kind,
    [
      ['latitudeDeg', fields.latitudeDeg, 'deg'],
      ['longitudeDeg', fields.longitudeDeg, 'deg'],
      ['altitudeFt', fields.altitudeM, 'm'],
      ['groundspeedKt', over.groundspeedMps, 'm/s'],
      ['trackDeg', over.trackDeg, 'deg'],
      ['verticalSpeedFpm', -fields.downMps, 'm/s'],
    ],
    refused,
  );
  return { kind, sender, time, channels, fields };
}

function vfrHud(payload: DataView, sender: string, refused: Refusal[]): MavlinkMessage {
  const kind = 'VFR_HUD';
  const value = (at: number) => finite(payload.getFloat32(at, true));
  const heading = payload.getInt16(16, true);
  const throttle = payload.getUint16(18, true);
  const fields = present<VfrHudFields>({
    airspeedMps: value(0),
    groundspeedMps: value(4),
    altitudeM: value(8),
    climbMps: value(12),
    headingDeg: heading >= 0 && heading <= 360 ? heading : undefined,
    throttlePercent: throttle <= FULL_THROTTLE ? throttle : undefined,
  });
  const channels = channelsFrom(kind, [['indicatedAirspeedKt', fields.airspeedMps, 'm/s']], refused);
  return { kind, sender, channels, fields };
}

function bootTime(payload: DataView, at: number): StandardTime {
  return { seconds: payload.getUint32(at, true) / 1000, periodS: BOOT_PERIOD_S };
}

/** Senders write NaN for what they do not know. */
function finite(value: number): number | undefined {
  return Number.isFinite(value) ? value : undefined;
}
