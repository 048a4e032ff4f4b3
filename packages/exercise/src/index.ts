// Public names of the exercise package.
export * from './advance.js';
export * from './describe.js';
export * from './drawFailure.js';
export { heightAbove, heightOf } from './heightAbove.js';
export { seededGenerator } from './seededGenerator.js';
export type * from './states.js';
export { failureCommand } from './trigger.js';
