// A spread holds no more after 40,000 draws than after 2,000: heap after collection, in a process of its own.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { FlyRequest } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { finished, ROOT } from '../support/command.js';

const FEW = 2_000;
const MANY = 40_000;
/** What one number kept of each draw would take at the least (bytes). */
const ONE_NUMBER_EACH = 8 * (MANY - FEW);

/** Bytes held after {@link MANY} draws beyond those held after {@link FEW}, both while the counting goes on. */
async function grownBytes(counting: string): Promise<number> {
  const physics = pathToFileURL(join(ROOT, 'packages/physics/dist/index.js')).href;
  const reference = FlyRequest.parse(
    JSON.parse(readFileSync(join(ROOT, 'fixtures/requests/reference-1000ft.json'), 'utf8')),
  );
  // Ahead from low down: the shortest flights there are, one a draw.
  const request = { ...reference, technique: { ...reference.technique, turn: 'ahead' } };
  const script = `
    const { countDraws, countTogether, spreadWork } = await import(${JSON.stringify(physics)});
    const work = spreadWork(${JSON.stringify(request)}, { draws: ${MANY}, seed: 3, heightsFt: [100] });
    countDraws({ ...work, firstDraw: ${MANY}, draws: ${FEW} }); // what is compiled on the way is no matter of draws
    const heldAt = new Map();
    const onProgress = (share) => {
      const done = Math.round(share * ${MANY});
      if (done !== ${FEW} && done !== ${MANY}) return;
      gc();
      heldAt.set(done, process.memoryUsage().heapUsed);
    };
    const kept = [];
    ${counting}
    console.log(heldAt.get(${MANY}) - heldAt.get(${FEW}), kept.length);`;
  const words = ['--expose-gc', '--input-type=module', '-e', script];
  const { code, out, err } = await finished(spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'pipe'] }));
  expect([code, err]).toEqual([0, '']);
  return Number(out.split(' ')[0]);
}

test.each([
  ['on one core', 'countDraws(work, { onProgress });'],
  [
    'divided between workers',
    'await countTogether(work, async (piece) => countDraws(piece), { lanes: 2, onProgress });',
  ],
])('%s nothing is kept of a draw', async (_, counting) => {
  expect(await grownBytes(counting)).toBeLessThan(ONE_NUMBER_EACH);
});

test('what is kept of each draw would be seen', async () => {
  const keeping = 'countDraws(work, { onProgress: (share) => { kept.push({ share }); onProgress(share); } });';
  expect(await grownBytes(keeping)).toBeGreaterThan(ONE_NUMBER_EACH);
});
