// What a slot may be, by its name and by the values it took. Offered only: a person takes it or not.
import type { SeenSlot, SlotSuggestion, SlotUnit } from '@stillprop/contracts';
import { type ChannelName, channelUnit, unitsFor } from '../slotUnits.js';
import { channelNamed, isReversed, unitNamed } from './channelWords.js';

const FULL_TURN_RAD = 2 * Math.PI;
const ROUNDING = 1.001;

/** A suggestion for each slot in its turn; of several slots for one channel the first is offered. */
export function suggestions(slots: readonly Omit<SeenSlot, 'suggestion'>[]): (SlotSuggestion | null)[] {
  const taken = new Set<ChannelName>();
  return slots.map((slot) => {
    const channel = typeof slot.slot === 'string' ? channelNamed(slot.slot) : null;
    if (channel === null || taken.has(channel) || typeof slot.newest === 'string') return null;
    taken.add(channel);
    const name = String(slot.slot);
    const { unit, why } = unitOf(name, channel, slot);
    return { channel, unit, scale: isReversed(name, channel) ? -1 : 1, why };
  });
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
  // An aeroplane on its wheels has angles near 0 in either unit: only one beyond 7 tells.
  const turnsOrBearing = channel === 'headingDeg' || channel === 'trackDeg';
  const within = Math.max(Math.abs(lowest), Math.abs(highest)) <= FULL_TURN_RAD * ROUNDING;
  if (usual === 'deg' && within && (turnsOrBearing ? highest !== lowest : highest - lowest > 0.02)) {
    return { unit: 'rad', why: 'by its name, and never beyond a full turn in radians: compare with the cockpit' };
  }
  return { unit: usual, why: 'by its name; its unit is a guess: compare with the cockpit' };
}
