// Attempts to be shown together, with their tracks, the oldest first; and which of them were flown from the same runway.
import type { AttemptDetail, Trace } from '@stillprop/contracts';
import { getAttempt, getTrace } from '../api.js';

const TRACE_POINTS = 600;

export interface Loaded {
  readonly detail: AttemptDetail;
  readonly trace: Trace;
}

export async function loadTogether(attemptIds: readonly string[], signal: AbortSignal): Promise<Loaded[]> {
  const loaded = await Promise.all(
    [...new Set(attemptIds)].map(async (id) => ({
      detail: await getAttempt(id, signal),
      trace: await getTrace(id, TRACE_POINTS, signal),
    })),
  );
  const startMs = ({ detail }: Loaded) => Date.parse(detail.summary.startedAt);
  return loaded.sort((a, b) => startMs(a) - startMs(b));
}

/** Tracks are drawn over one runway: that of the first. */
export function onSameRunway(first: Loaded, other: Loaded): boolean {
  const [a, b] = [first.detail.header.runway, other.detail.header.runway];
  return a.name === b.name && a.lengthFt === b.lengthFt && a.headingTrueDeg === b.headingTrueDeg;
}

/** A, B, C … in the order of time. */
export const letterOf = (index: number) => String.fromCharCode(65 + index);

export function shownTracks(loaded: readonly Loaded[]) {
  const [first] = loaded;
  return loaded.map(({ detail, trace }, i) => ({
    label: letterOf(i),
    trace: first !== undefined && onSameRunway(first, loaded[i] as Loaded) ? trace : nowhere(trace),
    fromS: detail.score.failure?.atS ?? null,
  }));
}

/** Keeps its letter and its dashes, and draws nothing. */
function nowhere(trace: Trace): Trace {
  return { ...trace, alongFt: trace.alongFt.map(() => null), acrossFt: trace.acrossFt.map(() => null) };
}
