import { packageTests } from '../../.tools/vitest.base.js';

// Window scans fly thousands of attempts: the limit is there for a hang, not for speed.
export default packageTests('physics', { test: { testTimeout: 120_000 } });
