// Public names of the charts package.
export { defineCharts } from './defineCharts.js';
export { bankFigure, figure, NOT_MEASURED, plainNumber, signedFigure, signedNumber } from './figures.js';
export { HeightLedger } from './heightLedger.js';
export { PlanView } from './planView.js';
export { ScoreBars } from './scoreBars.js';
export { TimeCharts } from './timeCharts.js';
export { CRITERION_WORDS, SEVERITY_WORDS } from './words.js';
