// A transport that hears anybody who reaches it, to find out what comes: nothing heard here ever becomes a sample of an attempt.
import type { LinkTransport } from '@stillprop/contracts';
import { nowS } from '../clock.js';
import { refusalWords } from '../refusalWords.js';
import { openTransport } from '../transports/openTransport.js';
import type { Transport } from '../transports/transport.js';

export interface EarListener {
  /** @param receivedS On the steady clock. */
  onMessage(bytes: Uint8Array, sender: string, receivedS: number): void;
  /** Something went wrong once, or a message was turned away: in words. */
  onError(message: string): void;
}

export interface Ear {
  readonly transport: Transport;
  /** As it was asked for, with the port as bound. */
  readonly heardOn: LinkTransport;
  /** What keeps messages from coming in, and what to do; null: nothing known. */
  problem(): string | null;
}

/** @throws {Error} If it cannot listen, in words: where, why, what to do. */
export async function openEar(asked: LinkTransport, listener: EarListener): Promise<Ear> {
  let problem: string | null = null;
  const open = 'allowedSenders' in asked ? { ...asked, allowedSenders: 'anybody' as const } : asked;
  const transport = await openTransport(open, {
    onMessage: (bytes, sender) => {
      problem = null;
      listener.onMessage(bytes, sender, nowS());
    },
    onRefused: (code, about) => {
      const words = refusalWords(code, about);
      if (problem !== words) listener.onError(`a message is refused: ${words}`);
      problem = words;
    },
    onProblem: (message) => {
      problem = message;
      if (message !== null) listener.onError(message);
    },
    onError: listener.onError,
  });
  const heardOn = 'listenPort' in asked ? { ...asked, listenPort: transport.address.port } : asked;
  return { transport, heardOn, problem: () => problem };
}
