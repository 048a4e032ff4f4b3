// Listens for some seconds, or until Ctrl+C, whichever comes first.
import { type EarListener, openEar } from '@stillprop/bridge';
import type { LinkTransport } from '@stillprop/contracts';
import { BadInput } from './badInput.js';

/**
 * @param isEnough Asked after each message: true ends it sooner.
 * @returns Where it was heard, and what kept messages from coming in; null: nothing known.
 * @throws {BadInput} If the port cannot be opened.
 */
export async function hearFor(
  place: LinkTransport,
  forS: number,
  onMessage: EarListener['onMessage'],
  isEnough: () => boolean = () => false,
): Promise<{ readonly heardOn: LinkTransport; readonly problem: string | null }> {
  let end: () => void = () => undefined;
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  const ear = await openEar(place, {
    onMessage: (...message) => {
      onMessage(...message);
      if (isEnough()) end();
    },
    onError: (text) => console.error(`stillprop: ${text}`),
  }).catch((error: Error) => {
    throw new BadInput(error.message);
  });
  const timer = setTimeout(end, forS * 1000);
  process.once('SIGINT', end);
  process.once('SIGTERM', end);
  await ended;
  clearTimeout(timer);
  process.removeListener('SIGINT', end);
  process.removeListener('SIGTERM', end);
  const problem = ear.problem();
  await ear.transport.close();
  return { heardOn: ear.heardOn, problem };
}
