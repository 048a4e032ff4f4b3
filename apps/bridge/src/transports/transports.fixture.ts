// What the tests of the transports share: a listener that remembers, and a transport that is closed in the end.
import { onTestFinished } from 'vitest';
import { openTransport } from './openTransport.js';
import type { Transport, TransportListener } from './transport.js';

type Asked = Parameters<typeof openTransport>[0];

export interface Heard {
  readonly messages: string[];
  readonly senders: string[];
  readonly refused: (readonly [code: string, about: string])[];
  readonly problems: (string | null)[];
  readonly errors: string[];
}

export async function opened(asked: Asked): Promise<{ transport: Transport; heard: Heard }> {
  const heard: Heard = { messages: [], senders: [], refused: [], problems: [], errors: [] };
  const listener: TransportListener = {
    onMessage: (bytes, sender) => {
      heard.messages.push(new TextDecoder().decode(bytes));
      heard.senders.push(sender);
    },
    onRefused: (code, about) => heard.refused.push([code, about]),
    onProblem: (message) => heard.problems.push(message),
    onError: (message) => heard.errors.push(message),
  };
  const transport = await openTransport(asked, listener);
  onTestFinished(() => transport.close());
  return { transport, heard };
}
