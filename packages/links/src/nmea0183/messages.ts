// The sentences of NMEA 0183 that tell of a flight: GGA (fix), RMC (minimum data), VTG (track and ground speed).
import { channelsFrom, present } from '../standardChannels.js';
import type { Refusal, StandardMessage, StandardTime } from '../standards.js';
import { type FieldReader, fieldReader } from './fields.js';
import type { Sentence } from './sentence.js';

const SECONDS_PER_DAY = 86_400;
const NO_FIX = 0;

export interface GgaFields {
  /** Since midnight UTC. */
  readonly timeOfDayS?: number;
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  /** 0 no fix, 1 fix, 2 differential … 6 reckoned, 7 by hand, 8 simulated. */
  readonly fixQuality?: number;
  readonly satellites?: number;
  /** Above mean sea level (the geoid). */
  readonly altitudeM?: number;
  /** Mean sea level above the WGS 84 ellipsoid; below: negative. Already taken off the altitude. */
  readonly geoidSeparationM?: number;
}

export interface RmcFields {
  readonly timeOfDayS?: number;
  /** Days since 1 January 1970. */
  readonly day?: number;
  readonly valid: boolean;
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  readonly groundspeedKt?: number;
  readonly trueTrackDeg?: number;
  /** Magnetic north east of true north: positive. */
  readonly magneticVariationDeg?: number;
}

export interface VtgFields {
  readonly valid: boolean;
  readonly trueTrackDeg?: number;
  readonly magneticTrackDeg?: number;
  readonly groundspeedKt?: number;
  readonly groundspeedKmh?: number;
}

export type NmeaMessage =
  | StandardMessage<'GGA', GgaFields>
  | StandardMessage<'RMC', RmcFields>
  | StandardMessage<'VTG', VtgFields>;

type Reader = (read: FieldReader, sender: string, refused: Refusal[]) => NmeaMessage;

const READERS: ReadonlyMap<string, Reader> = new Map([
  ['GGA', gga],
  ['RMC', rmc],
  ['VTG', vtg],
]);

/** The message of a sentence, or null for one of another type. */
export function nmeaMessage({ talker, type, fields }: Sentence, refused: Refusal[]): NmeaMessage | null {
  return READERS.get(type)?.(fieldReader(type, fields, refused), talker, refused) ?? null;
}

function gga(read: FieldReader, sender: string, refused: Refusal[]): NmeaMessage {
  const fixQuality = read.number('fixQuality', 5);
  // Without a quality there is no telling whether the rest can be trusted.
  const fixed = fixQuality !== undefined && fixQuality !== NO_FIX;
  const fields = present<GgaFields>({
    timeOfDayS: read.timeOfDayS(0),
    fixQuality,
    latitudeDeg: fixed ? read.angleDeg('latitudeDeg', 1, 'NS') : undefined,
    longitudeDeg: fixed ? read.angleDeg('longitudeDeg', 3, 'EW') : undefined,
    satellites: read.number('satellites', 6),
    altitudeM: fixed ? read.number('altitudeM', 8, [9, 'M']) : undefined,
    geoidSeparationM: fixed ? read.number('geoidSeparationM', 10, [11, 'M']) : undefined,
  });
  const channels = channelsFrom(
    'GGA',
    [
      ['latitudeDeg', fields.latitudeDeg, 'deg'],
      ['longitudeDeg', fields.longitudeDeg, 'deg'],
      ['altitudeFt', fields.altitudeM, 'm'],
    ],
    refused,
  );
  return { kind: 'GGA', sender, ...timeOf(fields.timeOfDayS, undefined), channels, fields };
}

function rmc(read: FieldReader, sender: string, refused: Refusal[]): NmeaMessage {
  const valid = read.letter(1) === 'A' && read.letter(11) !== 'N';
  const variation = read.number('magneticVariationDeg', 9);
  const fields = present<RmcFields>({
    timeOfDayS: read.timeOfDayS(0),
    day: read.day(8),
    valid,
    latitudeDeg: valid ? read.angleDeg('latitudeDeg', 2, 'NS') : undefined,
    longitudeDeg: valid ? read.angleDeg('longitudeDeg', 4, 'EW') : undefined,
    groundspeedKt: valid ? read.number('groundspeedKt', 6) : undefined,
    trueTrackDeg: valid ? read.number('trueTrackDeg', 7) : undefined,
    magneticVariationDeg: variation === undefined ? undefined : read.letter(10) === 'W' ? -variation : variation,
  });
  const channels = channelsFrom(
    'RMC',
    [
      ['latitudeDeg', fields.latitudeDeg, 'deg'],
      ['longitudeDeg', fields.longitudeDeg, 'deg'],
      ['groundspeedKt', fields.groundspeedKt, 'kt'],
      ['trackDeg', fields.trueTrackDeg, 'deg'],
    ],
    refused,
  );
  return { kind: 'RMC', sender, ...timeOf(fields.timeOfDayS, fields.day), channels, fields };
}

function vtg(read: FieldReader, sender: string, refused: Refusal[]): NmeaMessage {
  const valid = read.letter(8) !== 'N';
  const fields = present<VtgFields>({
    valid,
    trueTrackDeg: valid ? read.number('trueTrackDeg', 0, [1, 'T']) : undefined,
    magneticTrackDeg: valid ? read.number('magneticTrackDeg', 2, [3, 'M']) : undefined,
    groundspeedKt: valid ? read.number('groundspeedKt', 4, [5, 'N']) : undefined,
    groundspeedKmh: valid ? read.number('groundspeedKmh', 6, [7, 'K']) : undefined,
  });
  const channels = channelsFrom(
    'VTG',
    [
      ['trackDeg', fields.trueTrackDeg, 'deg'],
      fields.groundspeedKt === undefined
        ? ['groundspeedKt', fields.groundspeedKmh, 'km/h']
        : ['groundspeedKt', fields.groundspeedKt, 'kt'],
    ],
    refused,
  );
  return { kind: 'VTG', sender, channels, fields };
}

function timeOf(seconds: number | undefined, day: number | undefined): { readonly time?: StandardTime } {
  if (seconds === undefined) return {};
  return { time: { seconds, periodS: SECONDS_PER_DAY, ...(day !== undefined && { period: day }) } };
}
