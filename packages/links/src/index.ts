// Public names of the links package.
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
export * from './linkCoverage.js';
export * from './linkSet.js';
export * from './merge.js';
export type { SamplePart } from './partFromRow.js';
export { linkPartProblem, linkProfileProblem, missingChannels } from './profileProblem.js';
export { type ChannelName, channelUnit, slotFactor, unitsFor } from './slotUnits.js';
export * from './standIn.js';
export { linkCommands } from './templateProblem.js';
