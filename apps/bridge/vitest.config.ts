import { packageTests } from '../../.tools/vitest.base.js';

// Waits on sockets and on back-off end by themselves; the limit is only there to end a test that hangs.
export default packageTests('bridge', { test: { testTimeout: 60_000 } });
