// Public names of the bridge.
export * from './bridge.js';
