// A data folder whose index lists thousands of scored attempts of invented students, made before the server starts.
import { join } from 'node:path';
import { ENGINE_REVISION } from '@stillprop/scoring';
import { openStore } from '@stillprop/store';
import { fillIndex, type IndexedAttempts } from '../../packages/store/src/indexedAttempts.fixture.js';

export { BUSIEST, indexedId, studentName } from '../../packages/store/src/indexedAttempts.fixture.js';

/** For `stillprop start --data DIR`. Rows without recordings: good for lists and comparisons, not for a debrief. */
export async function fillStore(dir: string, amount: Pick<IndexedAttempts, 'attempts' | 'students'>): Promise<void> {
  const dataDir = join(dir, 'debrief');
  await (await openStore({ dataDir })).close();
  fillIndex(join(dataDir, 'stillprop.sqlite'), { ...amount, engineRevision: ENGINE_REVISION });
}
