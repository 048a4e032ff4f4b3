// Public names of the links package.
export { CHANNEL_LABELS } from './channelLabels.js';
export * from './continuousTime.js';
export {
  createDecoder,
  createPartDecoder,
  type DecodeCode,
  type Decoded,
  type DecodedPart,
  type DecodeFault,
} from './decode.js';
export type { Circumstances } from './derive.js';
export * from './encodeCommand.js';
export * from './entityState/decodeEntityState.js';
export type { EntityStateMessage } from './entityState/entityState.js';
export * from './gdl90/decodeGdl90.js';
export type { Gdl90Message } from './gdl90/messages.js';
export * from './linkCoverage.js';
export * from './linkSet.js';
export * from './mavlink2/decodeMavlink2.js';
export type { MavlinkMessage } from './mavlink2/messages.js';
export * from './merge.js';
export * from './nmea0183/decodeNmea0183.js';
export type { NmeaMessage } from './nmea0183/messages.js';
export * from './openStandards.js';
export type { SamplePart } from './partFromRow.js';
export { linkPartProblem, linkProfileProblem, missingChannels } from './profileProblem.js';
export { type ChannelName, channelUnit, slotFactor, unitsFor } from './slotUnits.js';
export type { GivenChannel, LackingChannel, StandardCoverage } from './standardCoverage.js';
export type * from './standards.js';
export * from './standIn.js';
export * from './teachIn/fittingUnits.js';
export * from './teachIn/guessShape.js';
export * from './teachIn/movedSlots.js';
export * from './teachIn/sampleTally.js';
export * from './teachIn/slotWatch.js';
export { linkCommands } from './templateProblem.js';
