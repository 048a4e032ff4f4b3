import { packageTests } from '../../.tools/vitest.base.js';

export default packageTests('tracks');
