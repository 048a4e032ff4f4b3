// The spread of an attempt's page in Chromium, with one worker and with one for each core: how much of the cores arrives.
import type { Browser } from 'playwright-core';
import type { Ratio } from '../../.tools/sideBySide.js';
import { openPage, startBrowser } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

const ROUNDS = 3;
/** Loops that share nothing, for each core. */
const LOOPS = 4;
const LOOP = `onmessage = () => {
  let sum = 0;
  for (let i = 1; i <= 20_000_000; i++) sum += Math.sin(i) / i;
  postMessage(sum);
};`;

interface Timed {
  readonly ms: number;
  readonly outcomes: string;
}

export default async function spreadInBrowser(): Promise<Ratio[]> {
  const ratios: Ratio[] = [];
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const address = `${url}/debrief/${await sendRecording(url, flownRecordingText({ heightFt: 900 }))}`;
      const browser = await startBrowser();
      try {
        ratios.push(...(await measured(browser, address)));
      } finally {
        await browser.close();
      }
    }),
  );
  return ratios;
}

/**
 * What workers get of a machine that others use too changes by the minute: turn and turn about, the loops between, and of
 * each the quickest run, which the others disturbed least.
 */
async function measured(browser: Browser, address: string): Promise<Ratio[]> {
  const cores = await coresOf(browser);
  await timedSpread(browser, address, cores); // to warm up
  const alone: Timed[] = [];
  const together: Timed[] = [];
  const loopsAlone: number[] = [];
  const loopsTogether: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const steps = [
      async () => alone.push(await timedSpread(browser, address, 1)),
      async () => loopsAlone.push(await timedLoops(browser, 1, LOOPS * cores)),
      async () => together.push(await timedSpread(browser, address, cores)),
      async () => loopsTogether.push(await timedLoops(browser, cores, LOOPS * cores)),
    ];
    for (const step of round % 2 === 0 ? steps : steps.reverse()) await step();
  }
  if (new Set([...alone, ...together].map(({ outcomes }) => outcomes)).size !== 1)
    throw new Error('divided between workers the spread came out otherwise');
  const quickest = (runs: readonly Timed[]) => Math.min(...runs.map(({ ms }) => ms));
  return [
    {
      name: `a spread of 10,000 draws in Chromium from click to answer, speed-up on all cores / their number (${cores})`,
      ratio: quickest(alone) / quickest(together) / cores,
      goal: 0.85,
      better: 'higher',
    },
    {
      name: `loops in Chromium that share nothing, speed-up on all cores / their number (${cores}): what the machine gives`,
      ratio: Math.min(...loopsAlone) / Math.min(...loopsTogether) / cores,
      goal: 0.85,
      better: 'higher',
    },
  ];
}

async function coresOf(browser: Browser): Promise<number> {
  const { page } = await openPage(browser, 'about:blank');
  const cores = await page.evaluate(() => navigator.hardwareConcurrency);
  await page.context().close();
  return cores;
}

/** From the click on the button to the answer on the page (ms), on a page that is told of so many cores. */
async function timedSpread(browser: Browser, address: string, cores: number): Promise<Timed> {
  const { page } = await openPage(browser, 'about:blank');
  await page.addInitScript((told) => {
    Object.defineProperty(Navigator.prototype, 'hardwareConcurrency', { get: () => told });
  }, cores);
  await page.goto(address);
  await page.getByTestId('errors-start').waitFor();
  // Nothing in here may have a name of its own: the loader would call helpers that the page does not have.
  const ms = await page.locator('pilot-errors').evaluate(async ({ shadowRoot }) => {
    const from = performance.now();
    shadowRoot?.querySelector<HTMLElement>('[data-testid="errors-start"]')?.click();
    await new Promise<void>((answered) => {
      new MutationObserver(() => {
        if (shadowRoot?.querySelector('[data-testid="errors-runway"]')) answered();
      }).observe(shadowRoot as Node, { childList: true, subtree: true });
    });
    return performance.now() - from;
  });
  const outcomes = (await page.getByTestId('errors-outcomes').textContent()) ?? '';
  await page.context().close();
  return { ms, outcomes };
}

/** Time in which so many loops are done by the workers together (ms). */
async function timedLoops(browser: Browser, workers: number, loops: number): Promise<number> {
  const { page } = await openPage(browser, 'about:blank');
  const ms = await page.evaluate(
    async ([script, count, all]) => {
      const address = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
      const from = performance.now();
      let left = all;
      await Promise.all(
        Array.from({ length: count }, async () => {
          const worker = new Worker(address);
          while (left-- > 0) {
            await new Promise<unknown>((resolve) => {
              worker.onmessage = resolve;
              worker.postMessage(null);
            });
          }
          worker.terminate();
        }),
      );
      return performance.now() - from;
    },
    [LOOP, workers, loops] as const,
  );
  await page.context().close();
  return ms;
}
