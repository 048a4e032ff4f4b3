import { packageTests } from '../../.tools/vitest.base.js';

// Hundreds of whole flights a test: the limit is only there to end one that hangs.
export default packageTests('exercise', { test: { testTimeout: 60_000 } });
