// The spread on an attempt's page in a real Chromium: progress, cancel, the counts of one core in Node, its refusal.
import { type Recording, readRecording } from '@stillprop/contracts';
import { type Spread, spread } from '@stillprop/physics';
import { recordedMoment } from '@stillprop/scoring';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

const DRAWS = 10_000;
/** A machine busy with other things counts slowly. */
const PATIENT = { timeout: 60_000 };
/** Low enough for outcomes of several kinds. */
const text = flownRecordingText({ heightFt: 680 });

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** The same on one core in Node, from the recording itself: pilots who err in delay, bank and speed, nothing else drawn. */
function countedHere(recording: Recording): Spread {
  const found = recordedMoment(recording);
  if (!found.ok) throw new Error(found.why);
  const { request, start } = found.moment;
  const errors = { windSdKt: 0, windSdShare: 0, glideLogSd: 0, climbSpeedSdKt: 0 };
  return spread(request, { start, draws: DRAWS, seed: 1, errors });
}

/** From the fifth piece on nothing reaches a worker until `letGo` is called in the page: a slow machine, for sure. */
async function holdPieces(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const post = Worker.prototype.postMessage as (...words: unknown[]) => void;
    const held: (() => void)[] = [];
    let free = 4;
    Object.assign(window, {
      letGo() {
        free = Number.POSITIVE_INFINITY;
        for (const go of held.splice(0)) go();
      },
    });
    Worker.prototype.postMessage = function (this: Worker, ...words: unknown[]) {
      const go = () => post.apply(this, words);
      if (free-- > 0) go();
      else held.push(go);
    };
  });
}

const focused = (page: Page) =>
  page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return at?.getAttribute('data-testid') ?? null;
  });

const progressOf = async (page: Page) => ({
  value: await page.getByTestId('errors-progress').evaluate((bar) => (bar as HTMLProgressElement).value),
  words: await textOf(page, 'errors-flights'),
});

test('by keyboard: started, cancelled half way, started again, and the counts are those of one core in Node', {
  timeout: 300_000,
}, async () => {
  const read = readRecording(text);
  if (!read.ok) throw new Error(read.problem.message);
  const expected = countedHere(read.recording);
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, text);
      const { page, errors } = await openPage(browser, url);
      await holdPieces(page);
      await page.goto(`${url}/debrief/${attemptId}`);
      const start = page.getByTestId('errors-start');
      await start.waitFor();
      expect(page.workers()).toHaveLength(0);

      await start.focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => progressOf(page), PATIENT).toEqual({ value: 1600, words: '1,600 of 10,000 flights' });
      expect(await page.getByLabel('Flying …').count()).toBe(1);
      const cores = await page.evaluate(() => navigator.hardwareConcurrency);
      expect(page.workers()).toHaveLength(Math.min(cores, 25));
      expect(page.workers().every((worker) => worker.url().startsWith(`${url}/assets/`))).toBe(true);
      expect(await seriousAxeFindings(page)).toEqual([]);

      expect(await focused(page)).toBe('errors-cancel');
      await page.keyboard.press('Enter');
      await page.getByTestId('errors-cancelled').waitFor();
      await expect.poll(() => page.workers().length, PATIENT).toBe(0);
      expect(await page.getByTestId('errors-runway').count()).toBe(0);
      expect(await focused(page)).toBe('errors-start');

      await page.evaluate('letGo()');
      await page.keyboard.press('Enter');
      await page.getByTestId('errors-runway').waitFor({ timeout: 120_000 });
      await expect.poll(() => page.workers().length, PATIENT).toBe(0);
      expect(await focused(page)).toBe('errors-result');

      const [at] = expected.heights;
      const counted = Object.values(at?.outcomes ?? {}).filter((count) => count > 0);
      expect(counted.length).toBeGreaterThan(1);
      const rows = await page.getByTestId('errors-outcomes').locator('tbody tr').allTextContents();
      const flights = await page.getByTestId('errors-outcomes').locator('tbody td:nth-child(2)').allTextContents();
      expect(rows).toHaveLength(counted.length);
      expect(flights.map((words) => Number(words.replace(/,/g, '')))).toEqual(counted);
      const words = await textOf(page, 'errors-runway');
      const percents = [...words.matchAll(/(\d+\.\d) %/g)].map((match) => Number(match[1]));
      const { share, low, high } = at?.endsWell ?? { share: 0, low: 0, high: 0 };
      expect(percents).toHaveLength(3);
      expect(Math.abs((percents[0] ?? 0) - 100 * share)).toBeLessThan(0.051);
      expect(percents.slice(1)).toEqual([Math.floor(1000 * low) / 10, Math.ceil(1000 * high) / 10]);
      await page.getByText('How the errors are drawn').click();
      expect(await textOf(page, 'errors-drawn')).toContain(`${expected.flights.toLocaleString('en-GB')} flown in all`);
      expect(await seriousAxeFindings(page)).toEqual([]);
      expect(errors).toEqual([]);
    }),
  );
});

test('leaving the page while it counts ends the workers', async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, text);
      const { page, errors } = await openPage(browser, url);
      await holdPieces(page);
      await page.goto(`${url}/debrief/${attemptId}`);
      await page.getByTestId('errors-start').click();
      await expect.poll(() => page.workers().length, PATIENT).toBeGreaterThan(0);
      await page.getByRole('link', { name: 'All attempts' }).click();
      await page.getByTestId('attempt-row').waitFor();
      await expect.poll(() => page.workers().length, PATIENT).toBe(0);
      expect(errors).toEqual([]);
    }),
  );
});

test('a worker that cannot be fetched is told in a sentence, and it can be tried again', async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, text);
      const { page } = await openPage(browser, `${url}/debrief/${attemptId}`);
      await page.route(/spreadWorker/, (route) => route.abort());
      await page.getByTestId('errors-start').click();
      await page.getByTestId('errors-problem').waitFor();
      expect(await textOf(page, 'errors-problem')).toBe('A counting worker could not be started.');
      await page.unroute(/spreadWorker/);
      await page.getByTestId('errors-start').click();
      await page.getByTestId('errors-runway').waitFor({ timeout: 120_000 });
    }),
  );
});

test('without a loss of power it says that there is nothing to work out, and offers nothing', async () => {
  const untilAloft = text.split('\n').filter((line) => !line.includes('"kind":"event"'));
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, `${untilAloft.slice(0, 200).join('\n')}\n`);
      const { page, errors } = await openPage(browser, `${url}/debrief/${attemptId}`);
      await page.getByTestId('errors-none').waitFor();
      expect(await textOf(page, 'errors-none')).toBe(
        'Nothing to work out: there was no loss of power in this recording.',
      );
      expect(await page.getByTestId('errors-start').count()).toBe(0);
      expect(errors).toEqual([]);
    }),
  );
});
