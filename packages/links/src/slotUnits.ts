// Units a slot may arrive in, and the exact factor from there to the unit that a channel's name states.
import type { Sample, SlotUnit } from '@stillprop/contracts';

export type ChannelName = keyof Sample;

const RAD_PER_DEG = Math.PI / 180;
const M_PER_FT = 0.3048; // international foot, exact
const M_PER_NM = 1852; // international nautical mile, exact
const M_PER_MI = 1609.344; // statute mile, exact
const S_PER_H = 3600;
const GRAVITY_MPS2 = 9.80665; // standard acceleration of free fall, exact

interface UnitSize {
  readonly quantity: 'time' | 'length' | 'speed' | 'angle' | 'load' | 'rotation' | 'share' | 'truth';
  /** One of this unit in s, m, m/s, rad, g, rpm or 1. */
  readonly size: number;
}

const UNITS: Readonly<Record<SlotUnit, UnitSize>> = {
  s: { quantity: 'time', size: 1 },
  ms: { quantity: 'time', size: 1e-3 },
  ft: { quantity: 'length', size: M_PER_FT },
  m: { quantity: 'length', size: 1 },
  kt: { quantity: 'speed', size: M_PER_NM / S_PER_H },
  'm/s': { quantity: 'speed', size: 1 },
  'km/h': { quantity: 'speed', size: 1000 / S_PER_H },
  mph: { quantity: 'speed', size: M_PER_MI / S_PER_H },
  'ft/min': { quantity: 'speed', size: M_PER_FT / 60 },
  'ft/s': { quantity: 'speed', size: M_PER_FT },
  'm/min': { quantity: 'speed', size: 1 / 60 },
  deg: { quantity: 'angle', size: RAD_PER_DEG },
  rad: { quantity: 'angle', size: 1 },
  turns: { quantity: 'angle', size: 2 * Math.PI },
  g: { quantity: 'load', size: 1 },
  'm/s2': { quantity: 'load', size: 1 / GRAVITY_MPS2 },
  rpm: { quantity: 'rotation', size: 1 },
  fraction: { quantity: 'share', size: 1 },
  percent: { quantity: 'share', size: 0.01 },
  bool: { quantity: 'truth', size: 1 },
};

const UNIT_OF_SUFFIX: readonly (readonly [suffix: string, unit: SlotUnit])[] = [
  ['Fpm', 'ft/min'],
  ['Rpm', 'rpm'],
  ['Ft', 'ft'],
  ['Kt', 'kt'],
  ['Deg', 'deg'],
  ['Fraction', 'fraction'],
  ['S', 's'],
];
const UNIT_WITHOUT_SUFFIX: Readonly<Partial<Record<ChannelName, SlotUnit>>> = {
  loadFactor: 'g',
  onGround: 'bool',
  stallWarning: 'bool',
};

/** The unit a channel is kept in: its name's suffix says it. */
export function channelUnit(channel: ChannelName): SlotUnit {
  const unit = UNIT_WITHOUT_SUFFIX[channel] ?? UNIT_OF_SUFFIX.find(([suffix]) => channel.endsWith(suffix))?.[1];
  if (unit === undefined) throw new RangeError(`channel ${channel} has no unit in its name`);
  return unit;
}

/** Factor from a slot's unit to the channel's, or null where the two measure different things. */
export function slotFactor(from: SlotUnit, channel: ChannelName): number | null {
  const to = channelUnit(channel);
  if (UNITS[from].quantity !== UNITS[to].quantity) return null;
  return from === to ? 1 : UNITS[from].size / UNITS[to].size;
}

/** Units that a channel may arrive in, for messages. */
export function unitsFor(channel: ChannelName): SlotUnit[] {
  return (Object.keys(UNITS) as SlotUnit[]).filter((unit) => slotFactor(unit, channel) !== null);
}
