// All tests but those that wait for real time, with a report of their own.
import { packageTests } from '../.tools/vitest.base.js';
import { REAL_TIME } from './lanes.js';

export default packageTests(
  'tests beside',
  { test: { include: ['**/*.test.ts'], exclude: [...REAL_TIME, '**/node_modules/**'], fileParallelism: false } },
  'beside',
);
