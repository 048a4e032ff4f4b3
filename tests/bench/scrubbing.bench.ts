// Frames of a debrief of ten minutes at 60 Hz, shown whole, while its moment moves in every one of them, against frames
// in which nothing moves.
import type { Page } from 'playwright-core';
import type { Ratio } from '../../.tools/sideBySide.js';
import { openPage, startBrowser } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

const ROUNDS = 3;
const FRAMES = 240;

export default async function scrubbing(): Promise<Ratio[]> {
  const ratios: Ratio[] = [];
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const address = `${url}/debrief/${await sendRecording(url, flownRecordingText({ rateHz: 60, waitS: 480 }))}`;
      const browser = await startBrowser();
      try {
        const { page } = await openPage(browser, address);
        await page.locator('time-charts canvas').last().waitFor();
        await page.getByRole('button', { name: 'Whole flight' }).click();
        await p95FrameMs(page, true); // to warm up
        const found: number[] = [];
        for (let round = 0; round < ROUNDS; round++) {
          const stillMs = await p95FrameMs(page, false);
          found.push((await p95FrameMs(page, true)) / stillMs);
        }
        const ratio = found.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
        ratios.push({
          name: 'a debrief of ten minutes at 60 Hz: 95 % of frames while scrubbing / while still',
          ratio,
          goal: 1.3,
          better: 'lower',
        });
      } finally {
        await browser.close();
      }
    }),
  );
  return ratios;
}

/** As text: what compiles this file would put calls of its own into a function, which the page does not know. */
const GAPS = `(scrubs, frames) => new Promise((resolve) => {
  const bar = document.querySelector('attempt-page').shadowRoot.querySelector('replay-bar');
  const { fromS, toS } = bar.span;
  const gaps = [];
  let lastMs = performance.now();
  requestAnimationFrame(function next(nowMs) {
    gaps.push(nowMs - lastMs);
    lastMs = nowMs;
    if (gaps.length > frames) return resolve(gaps.slice(1));
    const atS = fromS + ((toS - fromS) * gaps.length) / frames;
    if (scrubs) bar.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
    requestAnimationFrame(next);
  });
})`;

/** Time within which 95 % of the frames follow each other (ms). */
async function p95FrameMs(page: Page, moves: boolean): Promise<number> {
  const gaps = (await page.evaluate(`(${GAPS})(${moves}, ${FRAMES})`)) as number[];
  return gaps.sort((a, b) => a - b)[Math.floor(0.95 * gaps.length)] ?? Number.NaN;
}
