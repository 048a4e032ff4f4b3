// The recordings read last, so that a page's questions about one attempt parse it once.
import type { ReadRecording } from '@stillprop/contracts';
import { recordingFromBytes, sha256Of } from './recordingBytes.js';

/** A recording in memory takes some ten times its bytes. */
const KEPT = 2;

export interface ReadBytes {
  readonly read: ReadRecording;
  readonly sha256: string;
}

/** Reads bytes as a recording; the same bytes as lately give the same answer, which nobody may change. */
export function lastRead(): (bytes: Uint8Array) => ReadBytes {
  const kept = new Map<string, ReadRecording>();
  return (bytes) => {
    const sha256 = sha256Of(bytes);
    const read = kept.get(sha256) ?? recordingFromBytes(bytes);
    kept.delete(sha256);
    kept.set(sha256, read);
    for (const oldest of kept.keys()) {
      if (kept.size <= KEPT) break;
      kept.delete(oldest);
    }
    return { read, sha256 };
  };
}
