// The links of a station: all profiles it has, and the sets of them that a person can choose to fly.
import type { LinkProfile } from '@stillprop/contracts';
import { type FlownTogether, linkSets } from '@stillprop/links';

export interface FlownLinks {
  readonly profiles: readonly LinkProfile[];
  /** The first one is open from the start. */
  readonly sets: readonly FlownTogether[];
}

/** @throws {RangeError} If one of them cannot work, in words that name it. */
export function flownLinks(profiles: readonly LinkProfile[]): FlownLinks {
  const found = linkSets(profiles);
  if (found.ok) return { profiles, sets: found.sets };
  throw new RangeError(`link "${found.linkId}": ${found.problem.message}`);
}
