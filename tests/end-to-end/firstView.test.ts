// What a browser must fetch before it shows a debrief: a size, so it is held in a test and not in a benchmark.
import { gzipSync } from 'node:zlib';
import type { Browser, Response } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, startBrowser } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

const MOST_SCRIPT_BYTES = 120_000;

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

test('the scripts of a debrief are 120 kB at most, compressed', { timeout: 60_000 }, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, flownRecordingText());
      const { page } = await openPage(browser, url);
      const scripts: Promise<number>[] = [];
      const count = (response: Response) => {
        if (!/\.js(\?|$)/.test(response.url())) return;
        scripts.push(response.body().then((body) => gzipSync(body).length));
      };
      page.on('response', count);
      await page.goto(`${url}/debrief/${attemptId}`);
      await page.locator('time-charts canvas').last().waitFor();
      await page.waitForLoadState('networkidle');
      page.off('response', count);
      const bytes = (await Promise.all(scripts)).reduce((sum, size) => sum + size, 0);
      expect(scripts.length).toBeGreaterThan(2);
      expect(bytes).toBeGreaterThan(20_000);
      expect(bytes).toBeLessThanOrEqual(MOST_SCRIPT_BYTES);
    }),
  );
});
