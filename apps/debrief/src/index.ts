// Public names of the debrief app: starting its server.
export { type DebriefOptions, type RunningDebrief, startDebrief } from './server/startDebrief.js';
