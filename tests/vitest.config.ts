import { packageTests } from '../.tools/vitest.base.js';

export default packageTests('tests', {
  test: { include: ['**/*.test.ts'], testTimeout: 120_000, hookTimeout: 120_000, fileParallelism: false },
});
