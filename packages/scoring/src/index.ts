// Public names of the scoring package.
export { debriefText } from './debriefText.js';
export { ENGINE_REVISION } from './engineRevision.js';
export { type RecordedMoment, type RecordedMomentFound, recordedMoment } from './recordedMoment.js';
export { returnMoment } from './returnMoment.js';
export { scoreRecording } from './scoreRecording.js';
export { traceOf } from './traceOf.js';
