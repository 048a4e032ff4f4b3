// Public names of the store package.
export type {
  AttemptPage,
  AttemptQuery,
  AttemptStore,
  Received,
  ReceiveRefusal,
  ReindexReport,
  StoredAttempt,
} from './attemptStore.js';
export type { CompareChoice, CompareQuery } from './compare.js';
export { parseCursor } from './cursor.js';
export { openStore, type StoreOptions } from './openStore.js';
