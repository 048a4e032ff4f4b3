// The trade's words for what a simulator sends, as they stand in keys and header lines, and the channel each means.
import type { SlotUnit } from '@stillprop/contracts';
import type { ChannelName } from '../slotUnits.js';

interface Meaning {
  readonly channel: ChannelName;
  /** Any one of these sets, all of whose words stand in the name. */
  readonly words: readonly (readonly string[])[];
  /** With one of these in the name it means something else. */
  readonly not?: readonly string[];
}

/** Common practice, no source. The first that fits is meant: narrower ones stand before wider ones. */
const MEANINGS: readonly Meaning[] = [
  { channel: 'latitudeDeg', words: [['latitude'], ['lat']] },
  { channel: 'longitudeDeg', words: [['longitude'], ['lon'], ['lng'], ['long']] },
  {
    channel: 'verticalSpeedFpm',
    words: [['vertical', 'speed'], ['speed', 'vertical'], ['vs'], ['vsi'], ['climb'], ['fpm']],
  },
  { channel: 'heightAboveGroundFt', words: [['agl'], ['above', 'ground'], ['radar', 'altitude']] },
  { channel: 'heightFt', words: [['height']] },
  { channel: 'altitudeFt', words: [['altitude'], ['alt'], ['msl'], ['elevation']] },
  { channel: 'trueAirspeedKt', words: [['tas'], ['true', 'airspeed'], ['speed', 'true']] },
  { channel: 'groundspeedKt', words: [['groundspeed'], ['gs'], ['ground', 'speed'], ['speed', 'ground']] },
  {
    channel: 'indicatedAirspeedKt',
    words: [['ias'], ['kias'], ['airspeed'], ['speed', 'indicated'], ['cas']],
    not: ['true'],
  },
  { channel: 'trackDeg', words: [['track'], ['trk'], ['course'], ['cog']] },
  { channel: 'headingDeg', words: [['heading'], ['hdg'], ['yaw'], ['psi']], not: ['magnetic', 'mag', 'rate'] },
  { channel: 'bankDeg', words: [['bank'], ['roll'], ['phi']], not: ['rate'] },
  { channel: 'pitchDeg', words: [['pitch'], ['theta']], not: ['rate'] },
  { channel: 'loadFactor', words: [['load', 'factor'], ['g'], ['nz'], ['gload']] },
  { channel: 'engineRpm', words: [['rpm']] },
  { channel: 'powerFraction', words: [['power'], ['pwr'], ['thrust']] },
  { channel: 'gearFraction', words: [['gear'], ['undercarriage']] },
  { channel: 'flapFraction', words: [['flap'], ['flaps']] },
  { channel: 'onGround', words: [['on', 'ground'], ['onground'], ['ground'], ['weight', 'wheels']] },
  { channel: 'stallWarning', words: [['stall']] },
  { channel: 'timeS', words: [['time'], ['t'], ['clock'], ['seconds'], ['timestamp'], ['millis']] },
];

const UNIT_WORDS: Readonly<Record<string, SlotUnit>> = {
  ft: 'ft',
  feet: 'ft',
  m: 'm',
  metres: 'm',
  meters: 'm',
  kt: 'kt',
  kts: 'kt',
  knots: 'kt',
  kias: 'kt',
  kmh: 'km/h',
  kph: 'km/h',
  mps: 'm/s',
  mph: 'mph',
  fpm: 'ft/min',
  rad: 'rad',
  radians: 'rad',
  deg: 'deg',
  degrees: 'deg',
  ms: 'ms',
  millis: 'ms',
  pct: 'percent',
  percent: 'percent',
};

/** The words of a name: cut at anything that is no letter, and where capitals begin; in small letters. */
export function wordsOf(name: string): string[] {
  return name
    .replace(/m\/s/gi, 'mps')
    .replace(/km\/h/gi, 'kmh')
    .replace(/ft\/min/gi, 'fpm')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word !== '');
}

/** The channel that a name means; null: none that is known. */
export function channelNamed(name: string): ChannelName | null {
  const words = new Set(wordsOf(name));
  const meaning = MEANINGS.find(
    (one) => one.words.some((all) => all.every((word) => words.has(word))) && !one.not?.some((word) => words.has(word)),
  );
  return meaning?.channel ?? null;
}

/** The unit that a name states, such as `alt_m` or `Speed (km/h)`; null: none. */
export function unitNamed(name: string): SlotUnit | null {
  const word = wordsOf(name)
    .reverse()
    .find((one) => Object.hasOwn(UNIT_WORDS, one));
  return word === undefined ? null : (UNIT_WORDS[word] ?? null);
}

/** Does a name say that the sign is the other way round from ours, such as `left_bank` or `pitch down`? */
export function isReversed(name: string, channel: ChannelName): boolean {
  const words = wordsOf(name);
  if (channel === 'bankDeg') return words.includes('left');
  if (channel === 'pitchDeg') return words.includes('down');
  return channel === 'verticalSpeedFpm' && (words.includes('sink') || words.includes('down'));
}
