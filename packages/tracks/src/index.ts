// Public names of the tracks package.
export * from './importedRecording.js';
export * from './readTrack.js';
export * from './recordingOfTrack.js';
export type { AltitudeSource, LeftOut, TrackLog, TrackPoint, TrackRead } from './trackLog.js';
