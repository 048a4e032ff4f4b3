// All tests but those that wait for real time, with a report of their own.
import { setPriority } from 'node:os';
import { packageTests } from '../.tools/vitest.base.js';
import { REAL_TIME } from './lanes.js';

// They may run at the same time as those: then they give way, and so does all that they start.
setPriority(10);

export default packageTests(
  'tests beside',
  { test: { include: ['**/*.test.ts'], exclude: [...REAL_TIME, '**/node_modules/**'], fileParallelism: false } },
  'beside',
);
