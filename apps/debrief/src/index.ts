// Public names of the debrief app: starting its server, and the tokens of bridges.
export { type DebriefOptions, type RunningDebrief, startDebrief } from './server/startDebrief.js';
export { type StationTokens, stationTokens } from './server/stationTokens.js';
