// Names of channels as people say them, for the pages and the terminal.
import type { ChannelName } from './slotUnits.js';

export const CHANNEL_LABELS: Readonly<Record<ChannelName, string>> = {
  timeS: 'time',
  latitudeDeg: 'latitude',
  longitudeDeg: 'longitude',
  altitudeFt: 'altitude',
  heightFt: 'height above the runway',
  heightAboveGroundFt: 'height above the ground',
  indicatedAirspeedKt: 'indicated airspeed',
  trueAirspeedKt: 'true airspeed',
  groundspeedKt: 'groundspeed',
  trackDeg: 'track',
  headingDeg: 'heading',
  bankDeg: 'bank',
  pitchDeg: 'pitch',
  verticalSpeedFpm: 'vertical speed',
  loadFactor: 'load',
  engineRpm: 'engine rpm',
  powerFraction: 'power',
  gearFraction: 'landing gear',
  flapFraction: 'flaps',
  onGround: 'on the ground or not',
  stallWarning: 'stall warning',
};
