// The tests that wait for real time, with a report of their own.
import { packageTests } from '../.tools/vitest.base.js';
import { REAL_TIME } from './lanes.js';

export default packageTests('tests', { test: { include: REAL_TIME, fileParallelism: false } });
