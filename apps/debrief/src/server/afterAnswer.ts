// Work that is to begin when an answer is out, or its asker gone: whoever waits for the answer must not wait for it.
import type { FastifyReply } from 'fastify';

export function afterAnswer(
  { raw }: { readonly raw: Pick<FastifyReply['raw'], 'destroyed' | 'once'> },
  work: () => void,
) {
  if (raw.destroyed)
    work(); // its asker left while it was being made: no close will come
  else raw.once('close', work);
}
