// Public names of the physics package.
export * from './request.js';
