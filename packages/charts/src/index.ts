// Public names of the charts package.
export { defineCharts } from './defineCharts.js';
export { figure, plainNumber, unbroken } from './figures.js';
export { SEVERITY_WORDS } from './words.js';
