// Public names of the bridge.
export * from './bridge.js';
export { folderHolder } from './folderLock.js';
