// The sending side of every wire format: a sample as messages, by other people's encoders where there are any.
import type { LinkProfile, Sample } from '@stillprop/contracts';
import { encodeNmeaPacket } from 'nmea-simple';
import { common, MavLinkProtocolV2 } from 'node-mavlink';
import { encodeRow } from '../../packages/links/src/encoders.fixture.js';
import { earthFixed, encoded } from '../../packages/links/src/entityState/openDis.fixture.js';
import { framed } from '../../packages/links/src/gdl90/gdl90.fixture.js';
import { standInJson, standInText } from '../../packages/links/src/standIn.js';

/** Messages that tell one sample. */
export type Sender = (sample: Sample) => Uint8Array[];

// Definitions, in metres and seconds: international foot and nautical mile.
const M_PER_FT = 0.3048;
const MPS_PER_KT = 1852 / 3600;
const MPS_PER_FPM = M_PER_FT / 60;
const RAD_PER_DEG = Math.PI / 180;
/** Standard gravity, m/s² (CGPM 1901). */
const G = 9.806_65;

/** How much of the slot's unit one of the channel's is. */
const PER_CHANNEL_UNIT: Readonly<Record<string, number>> = {
  s: 1,
  ms: 1000,
  ft: 1,
  m: M_PER_FT,
  kt: 1,
  'm/s': MPS_PER_KT,
  'km/h': 1.852,
  'ft/min': 1,
  'm/min': M_PER_FT,
  deg: 1,
  rad: RAD_PER_DEG,
  turns: 1 / 360,
  rpm: 1,
  g: 1,
  'm/s2': G,
  fraction: 1,
  percent: 100,
  bool: 1,
};

/** Values by slot as a profile of text, JSON or binary numbers has them. */
function slotValues({ channels }: LinkProfile, sample: Sample): Record<string, number> {
  const slots: Record<string, number> = {};
  for (const [channel, source] of Object.entries(channels)) {
    // The ground beneath is as high as the runway here.
    const value = sample[channel === 'heightAboveGroundFt' ? 'heightFt' : (channel as keyof Sample)];
    if (source === undefined || value === undefined) continue;
    const per = channel === 'verticalSpeedFpm' && source.unit === 'm/s' ? MPS_PER_FPM : PER_CHANNEL_UNIT[source.unit];
    if (per === undefined) throw new Error(`no factor for ${source.unit}`);
    slots[String(source.slot)] = (Number(value) * per - source.offset) / source.scale;
  }
  return slots;
}

export const rows =
  (profile: LinkProfile): Sender =>
  (sample) => [encodeRow(profile, slotValues(profile, sample))];

/** A line with the names, then lines with the numbers, as a program that writes a table does. */
export function headed(profile: LinkProfile): Sender {
  const separator = profile.decoder.kind === 'delimited' ? profile.decoder.separator : '\t';
  const names = Object.values(profile.channels).map((source) => String(source?.slot));
  let begun = false;
  return (sample) => {
    const values = slotValues(profile, sample);
    const lines = [names.map((name) => values[name]).join(separator)];
    if (!begun) lines.unshift(names.join(separator));
    begun = true;
    return [new TextEncoder().encode(`${lines.join('\n')}\n`)];
  };
}

export const standIn = { text: standInText, json: standInJson };

/** MAVLink 2 by node-mavlink: position, attitude, and the numbers of a head-up display. */
export function mavlink(): Sender {
  const protocol = new MavLinkProtocolV2(1, 1);
  let sequence = 0;
  return (sample) => {
    const timeBootMs = Math.round(sample.timeS * 1000);
    const groundMps = (sample.groundspeedKt ?? 0) * MPS_PER_KT;
    const trackRad = (sample.trackDeg ?? sample.headingDeg) * RAD_PER_DEG;
    const attitude = Object.assign(new common.Attitude(), {
      timeBootMs,
      roll: sample.bankDeg * RAD_PER_DEG,
      pitch: sample.pitchDeg * RAD_PER_DEG,
      yaw: wrapped(sample.headingDeg) * RAD_PER_DEG,
    });
    const head = Object.assign(new common.VfrHud(), {
      airspeed: sample.indicatedAirspeedKt * MPS_PER_KT,
      groundspeed: groundMps,
      heading: Math.round(sample.headingDeg) % 360,
      alt: sample.altitudeFt * M_PER_FT,
      climb: sample.verticalSpeedFpm * MPS_PER_FPM,
    });
    const position = Object.assign(new common.GlobalPositionInt(), {
      timeBootMs,
      lat: Math.round(sample.latitudeDeg * 1e7),
      lon: Math.round(sample.longitudeDeg * 1e7),
      alt: Math.round(sample.altitudeFt * M_PER_FT * 1000),
      relativeAlt: Math.round((sample.heightFt ?? 0) * M_PER_FT * 1000),
      vx: Math.round(groundMps * Math.cos(trackRad) * 100),
      vy: Math.round(groundMps * Math.sin(trackRad) * 100),
      vz: Math.round(-sample.verticalSpeedFpm * MPS_PER_FPM * 100),
      hdg: Math.round(sample.headingDeg * 100) % 36_000,
    });
    // Position last: its coming makes the sample, of what was told before it.
    return [attitude, head, position].map((message) => {
      sequence = (sequence + 1) % 256;
      return new Uint8Array(protocol.serialize(message, sequence));
    });
  };
}

const wrapped = (deg: number) => (deg > 180 ? deg - 360 : deg);

/** NMEA 0183 by nmea-simple: track and groundspeed, then a fix, whose coming makes the sample. */
export const nmea: Sender = (sample) => {
  const sentences = [
    encodeNmeaPacket(
      {
        sentenceId: 'VTG',
        trackTrue: sample.trackDeg ?? sample.headingDeg,
        trackMagnetic: sample.trackDeg ?? sample.headingDeg,
        speedKnots: sample.groundspeedKt ?? 0,
        speedKmph: (sample.groundspeedKt ?? 0) * 1.852,
      },
      'GP',
    ),
    encodeNmeaPacket(
      {
        sentenceId: 'GGA',
        time: new Date(Date.UTC(2026, 0, 31, 9, 30, 0) + Math.floor(Math.round(sample.timeS * 100) / 100) * 1000),
        latitude: sample.latitudeDeg,
        longitude: sample.longitudeDeg,
        fixType: 'fix',
        satellitesInView: 9,
        horizontalDilution: 0.9,
        altitudeMeters: sample.altitudeFt * M_PER_FT,
        geoidalSeperation: 47,
      },
      'GP',
    ),
  ];
  return sentences.map((sentence) => new TextEncoder().encode(`${withHundredths(sentence, sample.timeS)}\r\n`));
};

/** The library writes whole seconds; the standard allows decimals, and a simulator that sends often writes them. */
function withHundredths(sentence: string, timeS: number): string {
  const hundredths = Math.round(timeS * 100) % 100;
  const body = sentence.slice(1, -3).replace(/^(GPGGA,\d{6})/, `$1.${String(hundredths).padStart(2, '0')}`);
  const sum = [...body].reduce((xor, letter) => xor ^ letter.charCodeAt(0), 0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
}

/** GDL 90, from the tables of its public interface document (560-1058-00): geometric altitude, then ownship report. */
export const gdl90: Sender = (sample) => {
  const steps5Ft = Math.round(sample.altitudeFt / 5);
  const geometric = Uint8Array.of(11, (steps5Ft >> 8) & 0xff, steps5Ft & 0xff, 0, 10);
  const report = new Uint8Array(28);
  report[0] = 10;
  report.set([0, 0xab, 0xcd, 0xef], 1);
  report.set(semicircles(sample.latitudeDeg), 5);
  report.set(semicircles(sample.longitudeDeg), 8);
  const pressure = Math.round((sample.altitudeFt + 1000) / 25);
  const airborneTrueTrack = (sample.onGround ? 0 : 8) | 1;
  report.set([pressure >> 4, ((pressure & 0xf) << 4) | airborneTrueTrack, 0x99], 11);
  const speed = Math.round(sample.groundspeedKt ?? 0);
  const climb = Math.round(sample.verticalSpeedFpm / 64) & 0xfff;
  report.set([speed >> 4, ((speed & 0xf) << 4) | (climb >> 8), climb & 0xff], 14);
  report[17] = Math.round(((sample.trackDeg ?? sample.headingDeg) / 360) * 256) & 0xff;
  report[18] = 1;
  report.set(new TextEncoder().encode('INVENTED'), 19);
  return [framed(geometric), framed(report)];
};

function semicircles(deg: number): number[] {
  const count = Math.round((deg / 180) * 2 ** 23) & 0xffffff;
  return [count >> 16, (count >> 8) & 0xff, count & 0xff];
}

type Matrix = readonly (readonly [number, number, number])[];
const times = (a: Matrix, b: Matrix): number[][] =>
  a.map((row) => [0, 1, 2].map((column) => row.reduce((sum, value, k) => sum + value * (b[k]?.[column] ?? 0), 0)));

/** IEEE 1278.1 by open-dis: place, velocity and attitude in axes fixed to the Earth. */
export const entityState: Sender = (sample) => {
  const { sin, cos } = Math;
  const [latitude, longitude] = [sample.latitudeDeg * RAD_PER_DEG, sample.longitudeDeg * RAD_PER_DEG];
  const [psi, theta, phi] = [sample.headingDeg, sample.pitchDeg, sample.bankDeg].map((deg) => deg * RAD_PER_DEG) as [
    number,
    number,
    number,
  ];
  /** Columns: north, east and down in axes fixed to the Earth. */
  const earth: Matrix = [
    [-sin(latitude) * cos(longitude), -sin(longitude), -cos(latitude) * cos(longitude)],
    [-sin(latitude) * sin(longitude), cos(longitude), -cos(latitude) * sin(longitude)],
    [cos(latitude), 0, -sin(latitude)],
  ];
  /** Columns: the body's axes in north, east and down. */
  const body: Matrix = [
    [
      cos(psi) * cos(theta),
      cos(psi) * sin(theta) * sin(phi) - sin(psi) * cos(phi),
      cos(psi) * sin(theta) * cos(phi) + sin(psi) * sin(phi),
    ],
    [
      sin(psi) * cos(theta),
      sin(psi) * sin(theta) * sin(phi) + cos(psi) * cos(phi),
      sin(psi) * sin(theta) * cos(phi) - cos(psi) * sin(phi),
    ],
    [-sin(theta), cos(theta) * sin(phi), cos(theta) * cos(phi)],
  ];
  const at = (matrix: number[][], row: number, column: number) => matrix[row]?.[column] ?? Number.NaN;
  const turned = times(earth, body);
  const groundMps = (sample.groundspeedKt ?? 0) * MPS_PER_KT;
  const trackRad = (sample.trackDeg ?? sample.headingDeg) * RAD_PER_DEG;
  const down = -sample.verticalSpeedFpm * MPS_PER_FPM;
  const velocity = times(earth, [
    [groundMps * cos(trackRad), 0, 0],
    [groundMps * sin(trackRad), 0, 0],
    [down, 0, 0],
  ]);
  return [
    encoded({
      version: 7,
      ids: [1, 2, 3, 4],
      // Units of an hour by 2³¹, absolute in the lowest bit.
      timestamp: ((Math.round((sample.timeS / 3600) * 2 ** 31) << 1) >>> 0) + 1,
      location: earthFixed(sample.latitudeDeg, sample.longitudeDeg, sample.altitudeFt * M_PER_FT),
      velocity: { x: at(velocity, 0, 0), y: at(velocity, 1, 0), z: at(velocity, 2, 0) },
      orientation: [
        Math.atan2(at(turned, 1, 0), at(turned, 0, 0)),
        -Math.asin(at(turned, 2, 0)),
        Math.atan2(at(turned, 2, 1), at(turned, 2, 2)),
      ],
      deadReckoning: 2,
      marking: 'INVENTED',
    }),
  ];
};
