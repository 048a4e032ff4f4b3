// One simulator on a wire whose messages do not say who sends: the first that is heard, for as long as it speaks.
import type { LinkProfile } from '@stillprop/contracts';

/** Silent for so long, the one followed leaves its place to another (s). */
const LEAVES_AFTER_S = 2.5;

/** Forms that name their sender are told apart by their decoders. */
const NAMED: ReadonlySet<LinkProfile['decoder']['kind']> = new Set(['entityState', 'mavlink2']);

/** @returns Whether a message of this sender's address, come at this time, is of the one followed. */
export function oneSender({ decoder }: LinkProfile): (sender: string, receivedS: number) => boolean {
  if (NAMED.has(decoder.kind)) return () => true;
  let followed: string | null = null;
  let heardS = Number.NEGATIVE_INFINITY;
  return (sender, receivedS) => {
    if (sender !== followed && receivedS - heardS < LEAVES_AFTER_S) return false;
    followed = sender;
    heardS = receivedS;
    return true;
  };
}
