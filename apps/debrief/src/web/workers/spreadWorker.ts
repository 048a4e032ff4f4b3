// The worker that counts: pieces of a spread in, their counts out.
import { countDraws, type SpreadWork } from '@stillprop/physics';
import type { SpreadAnswer } from './spreadPool.js';

self.addEventListener('message', ({ data }: MessageEvent<SpreadWork>) => {
  self.postMessage(answer(data));
});

function answer(piece: SpreadWork): SpreadAnswer {
  try {
    return { counts: countDraws(piece) };
  } catch (error) {
    return { problem: (error as Error).message };
  }
}
