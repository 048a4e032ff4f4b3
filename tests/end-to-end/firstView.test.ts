// What a browser must fetch before it shows a debrief: a size, so it is held in a test and not in a benchmark.
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
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

test('a debrief stands with 120 kB of scripts, compressed, whatever else comes later', {
  timeout: 60_000,
}, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, flownRecordingText());
      const address = `${url}/debrief/${attemptId}`;
      const answer = await fetch(address);
      const named = `${await answer.text()} ${answer.headers.get('link')}`.match(/\/assets\/[\w-]+\.js/g) ?? [];
      const first = [...new Set(named)];
      const sizes = await Promise.all(
        first.map(async (path) => gzipSync(Buffer.from(await (await fetch(url + path)).arrayBuffer())).length),
      );
      const bytes = sizes.reduce((sum, size) => sum + size, 0);
      expect(first.length).toBeGreaterThan(2);
      expect(bytes).toBeGreaterThan(20_000);
      expect(bytes).toBeLessThanOrEqual(MOST_SCRIPT_BYTES);

      // Those are all it needs: sentence, score, charts, plan and ledger come with every other script refused.
      const { page } = await openPage(browser, 'about:blank');
      const refused: string[] = [];
      await page.route('**/*.js', (route) => {
        const path = new URL(route.request().url()).pathname;
        if (first.includes(path)) return route.continue();
        refused.push(path);
        return route.abort();
      });
      await page.goto(address);
      await page.locator('time-charts canvas').last().waitFor();
      await page.locator('plan-view path.track').last().waitFor();
      await page.locator('height-ledger table').waitFor();
      await page.getByTestId('overall').waitFor();
      await expect.poll(() => refused.length).toBeGreaterThan(0);
    }),
  );
});
