// What a slot may be, by its name and by the values it took. Offered only: a person takes it or not.
import type { SeenSlot, SlotSuggestion, SlotUnit } from '@stillprop/contracts';
import { type ChannelName, channelUnit, unitsFor } from '../slotUnits.js';
import { channelNamed, isReversed, unitNamed } from './channelWords.js';

/** In radians these never go beyond; in degrees they soon do. */
const WITHIN_RAD = {
  latitudeDeg: Math.PI / 2,
  bankDeg: Math.PI / 2,
  pitchDeg: Math.PI / 2,
  headingDeg: 2 * Math.PI,
  trackDeg: 2 * Math.PI,
} as const;
const LEAST_MOVE = 0.02;
const ROUNDING = 1.001;

/** A suggestion for each slot in its turn; of several slots for one channel the first is offered. */
export function suggestions(slots: readonly Omit<SeenSlot, 'suggestion'>[]): (SlotSuggestion | null)[] {
  const taken = new Set<ChannelName>();
  const offered = slots.map((slot) => {
    const channel = typeof slot.slot === 'string' ? channelNamed(slot.slot) : null;
    if (channel === null || taken.has(channel) || typeof slot.newest === 'string') return null;
    taken.add(channel);
    const name = String(slot.slot);
    const { unit, why } = unitOf(name, channel, slot);
    return { channel, unit, scale: isReversed(name, channel) ? -1 : 1, why };
  });
  // Longitudes are small in degrees too: they come in the unit of the latitude beside them.
  const latitude = offered.find((one) => one?.channel === 'latitudeDeg');
  return offered.map((one) =>
    one?.channel === 'longitudeDeg' && latitude ? { ...one, unit: latitude.unit, why: latitude.why } : one,
  );
}

function unitOf(
  name: string,
  channel: ChannelName,
  { lowest, highest }: Pick<SeenSlot, 'lowest' | 'highest'>,
): { readonly unit: SlotUnit; readonly why: string } {
  const named = unitNamed(name);
  if (named !== null && unitsFor(channel).includes(named)) return { unit: named, why: 'by its name' };
  const usual = channelUnit(channel);
  if (lowest === null || highest === null) return { unit: usual, why: 'by its name' };
  if (usual === 'fraction' && highest > ROUNDING) return { unit: 'percent', why: 'by its name, and beyond 1' };
  const most = Math.max(Math.abs(lowest), Math.abs(highest));
  // At rest an angle is near 0 in either unit: only one that moves can tell. A position tells wherever it is.
  const within = Object.hasOwn(WITHIN_RAD, channel) ? WITHIN_RAD[channel as keyof typeof WITHIN_RAD] : undefined;
  const tells = channel === 'latitudeDeg' || highest - lowest > LEAST_MOVE;
  if (within !== undefined && tells && most <= within * ROUNDING) {
    return { unit: 'rad', why: 'by its name, and so small that it looks like radians: compare with the cockpit' };
  }
  return { unit: usual, why: 'by its name; its unit is a guess: compare with the cockpit' };
}
