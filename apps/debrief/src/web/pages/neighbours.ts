// The attempts flown before and after one, found in the list of attempts.
import type { AttemptList } from '@stillprop/contracts';

export interface Neighbours {
  /** Flown before; null: none, or not known. */
  readonly olderId: string | null;
  /** Flown after; null: none, or not known. */
  readonly newerId: string | null;
}

const PAGE_LENGTH = 100;
/** An attempt further back than this many pages has no neighbours named. */
const MOST_PAGES = 5;

/** Reads the list from its newest page until the attempt and the one below it are seen. */
export async function neighboursOf(
  attemptId: string,
  readPage: (limit: number, before: string | null) => Promise<AttemptList>,
): Promise<Neighbours> {
  let before: string | null = null;
  let newerId: string | null = null;
  let found = false;
  for (let page = 0; page < MOST_PAGES; page++) {
    const list: AttemptList = await readPage(PAGE_LENGTH, before);
    for (const attempt of list.attempts) {
      if (found) return { olderId: attempt.attemptId, newerId };
      if (attempt.attemptId === attemptId) found = true;
      else newerId = attempt.attemptId;
    }
    if (list.next === null) break;
    before = list.next;
  }
  return { olderId: null, newerId: found ? newerId : null };
}
