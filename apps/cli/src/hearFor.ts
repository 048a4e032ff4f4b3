// Listens on a UDP port for some seconds, or until Ctrl+C, whichever comes first.
import { openTeachInUdp, type TeachInListener, type TeachInPlace } from '@stillprop/bridge';
import { BadInput } from './badInput.js';

/**
 * @param isEnough Asked after each message: true ends it sooner.
 * @throws {BadInput} If the port cannot be opened.
 */
export async function hearFor(
  place: TeachInPlace,
  forS: number,
  onMessage: TeachInListener['onMessage'],
  isEnough: () => boolean = () => false,
): Promise<void> {
  let end: () => void = () => undefined;
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  const source = await openTeachInUdp(place, {
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
  await source.close();
}
