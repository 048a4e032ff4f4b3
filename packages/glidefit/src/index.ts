// Public names of the glide fit.
export { fitGlide } from './fitGlide.js';
export type * from './glideFit.js';
