// Public names of the bridge.
export * from './bridge.js';
export { nowS } from './clock.js';
export { folderHolder } from './folderLock.js';
export * from './teachIn/ear.js';
export * from './teachIn/hearing.js';
