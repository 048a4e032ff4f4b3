// Property tests try the same cases in every run, so that a red run points at the change that made it; `npm run fuzz` tries new ones.
import fc from 'fast-check';

const asked = process.env.PROPERTY_SEED ?? '20261125';
const seed = Number(asked);
if (!Number.isInteger(seed)) throw new Error(`PROPERTY_SEED is ${asked}: a whole number would be right.`);
fc.configureGlobal({ seed });
