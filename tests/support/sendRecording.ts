// Hands a recording to a running server as the bridge would, without a flight at a simulator's pace.
import { createHash } from 'node:crypto';
import { Receipt } from '@stillprop/contracts';

/** @returns The id of the attempt, which the server has on disk by then. */
export async function sendRecording(url: string, text: string): Promise<string> {
  const response = await fetch(`${url}/api/recordings`, {
    method: 'POST',
    headers: {
      'content-type': 'application/x-ndjson',
      'x-content-sha256': createHash('sha256').update(text).digest('hex'),
    },
    body: text,
  });
  const answer: unknown = await response.json();
  if (!response.ok) throw new Error(JSON.stringify(answer));
  return Receipt.parse(answer).attemptId;
}
