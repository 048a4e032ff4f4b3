// Public names of the charts package.
export { defineCharts } from './defineCharts.js';
export { figure, plainNumber, unbroken } from './figures.js';
export type { Ghost } from './ghost.js';
export type { Reach } from './reach.js';
export { nextSampleS, timeWindow } from './traceAt.js';
export { trackDash } from './tracksLayout.js';
export { SEVERITY_WORDS } from './words.js';
