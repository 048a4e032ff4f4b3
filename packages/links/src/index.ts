// Public names of the links package.
export * from './decode.js';
export * from './encodeCommand.js';
export { COMMAND_NAMES, linkCommands, linkProfileProblem, missingChannels } from './profileProblem.js';
export { type ChannelName, channelUnit, slotFactor, unitsFor } from './slotUnits.js';
export * from './standIn.js';
