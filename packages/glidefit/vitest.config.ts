import { packageTests } from '../../.tools/vitest.base.js';

// The coverage of the intervals is counted over two hundred flights.
export default packageTests('glidefit', { test: { testTimeout: 120_000 } });
