// A person does one thing in the cockpit: which slots moved, and which way.
import type { SeenSlot, SlotUnit } from '@stillprop/contracts';
import { type ChannelName, channelUnit } from '../slotUnits.js';

/** What a person is asked to do, and the channel that shows it. Signs are those of a sample. */
export const MANOEUVRES = [
  { id: 'bank-left', ask: 'Bank left and hold.', channel: 'bankDeg', sign: -1, returns: true },
  { id: 'nose-up', ask: 'Raise the nose and hold.', channel: 'pitchDeg', sign: 1, returns: true },
  { id: 'climb', ask: 'Climb straight ahead.', channel: 'altitudeFt', sign: 1, returns: false },
  {
    id: 'climb-rate',
    ask: 'From level flight, start a climb and hold it.',
    channel: 'verticalSpeedFpm',
    sign: 1,
    returns: true,
  },
  { id: 'turn', ask: 'Turn right.', channel: 'headingDeg', sign: 1, returns: false },
  { id: 'speed-up', ask: 'On the ground, speed up.', channel: 'indicatedAirspeedKt', sign: 1, returns: false },
  { id: 'power', ask: 'Close the throttle, then open it.', channel: 'powerFraction', sign: 1, returns: false },
] as const satisfies readonly {
  readonly id: string;
  readonly ask: string;
  readonly channel: ChannelName;
  readonly sign: 1 | -1;
  /** Does it start from near 0? */
  readonly returns: boolean;
}[];
export type Manoeuvre = (typeof MANOEUVRES)[number];

export interface MovedSlot {
  readonly slot: SeenSlot['slot'];
  readonly from: number;
  readonly to: number;
  /** −1 where the slot went the other way than the channel would. */
  readonly scale: 1 | -1;
  /** The unit that its numbers look like; a guess. */
  readonly unit: SlotUnit;
}

/** A slot's numbers in the time before, and after. */
export interface SlotTrace {
  readonly slot: SeenSlot['slot'];
  readonly before: readonly number[];
  readonly during: readonly number[];
}

/** What moves less than this many times its earlier unrest is at rest. */
const UNREST = 4;
const MOST_OFFERED = 5;

/**
 * The slots that moved, the likeliest first: those that rested before and went far beyond their earlier unrest. A clock
 * and a position move all the time, and are not among them.
 */
export function movedSlots(traces: readonly SlotTrace[], manoeuvre: Manoeuvre): MovedSlot[] {
  return traces
    .flatMap(({ slot, before, during }) => {
      const from = before.at(-1);
      const to = farthest(during, from);
      if (from === undefined || to === undefined || to === from) return [];
      // What drifts goes farther the longer one watches.
      const unrest = (Math.max(...before) - Math.min(...before)) * Math.max(1, during.length / before.length);
      const way = Math.abs(to - from);
      if (way < UNREST * unrest) return [];
      // From wings level or level flight, the value starts near 0: then the way is most of where it gets.
      const fromRest = manoeuvre.returns ? way / Math.max(Math.abs(from), Math.abs(to)) : 1;
      const scale = Math.sign(to - from) === manoeuvre.sign ? (1 as const) : (-1 as const);
      return [
        {
          slot,
          from,
          to,
          scale,
          unit: likelyUnit(manoeuvre.channel, from, to),
          rank: fromRest * Math.min(1e6, way / (unrest + 1e-3 * way)),
        },
      ];
    })
    .sort((a, b) => b.rank - a.rank)
    .slice(0, MOST_OFFERED)
    .map(({ rank: _, ...moved }) => moved);
}

function farthest(values: readonly number[], from: number | undefined): number | undefined {
  if (from === undefined) return undefined;
  return values.reduce<number | undefined>(
    (far, value) => (far === undefined || Math.abs(value - from) > Math.abs(far - from) ? value : far),
    undefined,
  );
}

const QUARTER_TURN_RAD = 1.6;
const FULL_TURN_RAD = 6.3;

/** Nobody holds a bank of 1 degree for long, and a turn goes past 6 degrees soon. */
function likelyUnit(channel: ChannelName, from: number, to: number): SlotUnit {
  const most = Math.max(Math.abs(from), Math.abs(to));
  const inRadians =
    channel === 'bankDeg' || channel === 'pitchDeg'
      ? most <= QUARTER_TURN_RAD
      : channel === 'headingDeg' && most <= FULL_TURN_RAD;
  if (inRadians) return 'rad';
  return channel === 'powerFraction' && most > FULL_TURN_RAD ? 'percent' : channelUnit(channel);
}
