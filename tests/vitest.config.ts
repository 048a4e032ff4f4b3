import { packageTests } from '../.tools/vitest.base.js';

export default packageTests('tests', {
  test: { include: ['**/*.test.ts'], fileParallelism: false },
});
