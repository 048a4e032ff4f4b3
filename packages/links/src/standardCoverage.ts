// Which channels of a sample an open standard gives, how finely, and what is lost for want of the others.
import { REQUIRED_CHANNELS, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';

export interface GivenChannel {
  /** `substitute`: the standard tells something near it; `note` says what differs. */
  readonly given: 'yes' | 'substitute';
  /** Kinds of messages that tell it, the best first. */
  readonly from: readonly string[];
  /** What a person should know of it; '' where there is nothing to say. */
  readonly note: string;
}
export interface LackingChannel {
  readonly given: 'no';
  /** No sample is made without it: a second link must supply it, or it must be derived. */
  readonly required: boolean;
  /** What is lost, in a sentence for the page before the exercise. */
  readonly lost: string;
}
export type StandardCoverage = Readonly<Record<keyof Sample, GivenChannel | LackingChannel>>;

const NEEDED = 'no attempt can be flown without it: let a second link supply it';

const LOST: Readonly<Record<keyof Sample, string>> = {
  timeS: 'Time of arrival stands in for the simulator’s own: a pause or a delay on the way is not told apart.',
  latitudeDeg: `Position is not told; ${NEEDED}.`,
  longitudeDeg: `Position is not told; ${NEEDED}.`,
  altitudeFt: `Altitude is not told; ${NEEDED}.`,
  heightFt: 'Height above the runway is reckoned from altitude and the runway’s elevation.',
  heightAboveGroundFt: 'Ground that rises or falls beside the runway is not seen.',
  indicatedAirspeedKt: `Airspeed is not told; ${NEEDED}. One reckoned from ground speed and wind is only as good as the wind.`,
  trueAirspeedKt: 'True airspeed is reckoned from indicated airspeed and height.',
  groundspeedKt: 'The end of the roll and the speed at touchdown over the ground are not measured.',
  trackDeg: 'Drift at touchdown is reckoned from positions.',
  headingDeg: `Heading is not told; ${NEEDED}. The track differs from it by the drift.`,
  bankDeg: `Bank is not told; ${NEEDED}. Without it the turn cannot be scored.`,
  pitchDeg: `Pitch is not told; ${NEEDED}. Without it the first action on the elevator cannot be timed.`,
  verticalSpeedFpm: `Vertical speed is not told; ${NEEDED}, or derive it from altitude.`,
  loadFactor: 'Load factor is not measured; the stall speed in the turn is reckoned from bank alone.',
  engineRpm: 'Whether the power fell cannot be checked by engine speed.',
  powerFraction: 'Whether the power fell cannot be checked by power.',
  gearFraction: 'Whether the landing gear was down is not measured.',
  flapFraction: 'Flaps are not measured; stall speed and glide are taken as without them.',
  onGround: 'Take-off and touchdown are told by height and speed alone, so less exactly.',
  stallWarning: 'Stall warning is not measured.',
};

type Given = Readonly<Record<string, GivenChannel>>;

/** `from` gives the channel as a sample wants it. */
export function gives(from: readonly string[], note = ''): GivenChannel {
  return { given: 'yes', from, note };
}

/** `from` gives something near the channel; `note` says what differs. */
export function nearly(from: readonly string[], note: string): GivenChannel {
  return { given: 'substitute', from, note };
}

/** A whole table from the channels given; the others lack, with what is lost by it. */
export function coverageOf(given: { readonly [Name in keyof Sample]?: GivenChannel }): StandardCoverage {
  const table: Given = given;
  return Object.fromEntries(
    SAMPLE_CHANNELS.map((channel) => [
      channel,
      table[channel] ?? { given: 'no', required: REQUIRED_CHANNELS.includes(channel), lost: LOST[channel] },
    ]),
  ) as StandardCoverage;
}
