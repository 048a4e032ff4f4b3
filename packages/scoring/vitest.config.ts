import { packageTests } from '../../.tools/vitest.base.js';

// Whole scores fly the model some fifteen times for the verdict; a busy machine takes its time over them.
export default packageTests('scoring', { test: { testTimeout: 60_000 } });
