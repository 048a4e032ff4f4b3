// Puts a value into a part by a property of a fixed name each: several times faster than by a name known only at run time.
import type { SamplePart } from './partFromRow.js';
import type { ChannelName } from './slotUnits.js';

const TRUE_FROM = 0.5;

type Writer = (part: SamplePart, value: number) => void;

/** Numbers as they are; what is true or false is true from a half on. */
export const PART_WRITERS: Readonly<Record<ChannelName, Writer>> = {
  timeS: (part, value) => {
    part.timeS = value;
  },
  latitudeDeg: (part, value) => {
    part.latitudeDeg = value;
  },
  longitudeDeg: (part, value) => {
    part.longitudeDeg = value;
  },
  altitudeFt: (part, value) => {
    part.altitudeFt = value;
  },
  heightFt: (part, value) => {
    part.heightFt = value;
  },
  heightAboveGroundFt: (part, value) => {
    part.heightAboveGroundFt = value;
  },
  indicatedAirspeedKt: (part, value) => {
    part.indicatedAirspeedKt = value;
  },
  trueAirspeedKt: (part, value) => {
    part.trueAirspeedKt = value;
  },
  groundspeedKt: (part, value) => {
    part.groundspeedKt = value;
  },
  trackDeg: (part, value) => {
    part.trackDeg = value;
  },
  headingDeg: (part, value) => {
    part.headingDeg = value;
  },
  bankDeg: (part, value) => {
    part.bankDeg = value;
  },
  pitchDeg: (part, value) => {
    part.pitchDeg = value;
  },
  verticalSpeedFpm: (part, value) => {
    part.verticalSpeedFpm = value;
  },
  loadFactor: (part, value) => {
    part.loadFactor = value;
  },
  engineRpm: (part, value) => {
    part.engineRpm = value;
  },
  powerFraction: (part, value) => {
    part.powerFraction = value;
  },
  gearFraction: (part, value) => {
    part.gearFraction = value;
  },
  flapFraction: (part, value) => {
    part.flapFraction = value;
  },
  onGround: (part, value) => {
    part.onGround = value >= TRUE_FROM;
  },
  stallWarning: (part, value) => {
    part.stallWarning = value >= TRUE_FROM;
  },
};
