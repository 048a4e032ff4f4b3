// What is lost where a channel is missing, in one plain sentence each: for the check of a link and the pages.
import type { ChannelName } from './slotUnits.js';

/** One sentence each; the first nine channels are required, and their sentences say what would be right. */
export const LOST: Readonly<Record<ChannelName, string>> = {
  timeS:
    'without time nothing can be recorded; the time of arrival can stand in for it ("timeSource": "arrival" in the file).',
  latitudeDeg: 'without position nothing can be judged; this or a second link must send latitude.',
  longitudeDeg: 'without position nothing can be judged; this or a second link must send longitude.',
  altitudeFt: 'without altitude no failure can come at its height; this or a second link must send it.',
  indicatedAirspeedKt:
    'without airspeed neither lift-off nor glide can be judged; a second link must send it, or it can be derived from groundspeed and a known wind.',
  headingDeg:
    'without heading the turn cannot be judged; a second link must send it, or it can be derived from track and a known wind.',
  bankDeg: 'without bank the turn and the touchdown cannot be judged; a second link must send it.',
  pitchDeg: 'without pitch the first reaction cannot be judged; a second link must send it.',
  verticalSpeedFpm:
    'without vertical speed no climb is seen and no failure comes; a second link must send it, or it can be derived from altitude.',
  heightFt: 'Height above the runway is taken as altitude less the elevation of the runway.',
  heightAboveGroundFt:
    'Touching the ground is told from height and speed, unless the simulator says when it is on the ground.',
  trueAirspeedKt: 'True airspeed is calculated from indicated airspeed, so an error of that is in it.',
  groundspeedKt: 'Groundspeed is calculated from position, which is rougher.',
  trackDeg: 'Track is calculated from position, which is rougher.',
  loadFactor: 'Load in the turn is not measured.',
  engineRpm: 'Without power either, its fall is seen late, from climb and speed.',
  powerFraction: 'The fall of power is told from engine rpm, or late from climb and speed.',
  gearFraction: 'The landing gear is not measured.',
  flapFraction: 'The flaps are not measured.',
  onGround: 'Lift-off and touchdown are told from height and speed, which is rougher.',
  stallWarning: 'Stall warnings are not measured: nearness to the stall is told from speed and load alone.',
};

/** What is lost without a channel, as a sentence of its own. */
export function lostBy(channel: ChannelName): string {
  const lost = LOST[channel];
  return lost.charAt(0).toUpperCase() + lost.slice(1);
}
