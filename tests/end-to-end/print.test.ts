// On paper: one sheet for an attempt and one for a student, light whatever the theme, with the words that matter.
import { writeFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** Pages of a PDF, by its own count. */
const pagesIn = (pdf: Buffer) => Number(/\/Type\s*\/Pages[^>]*?\/Count\s+(\d+)/s.exec(pdf.toString('latin1'))?.[1]);

test('an attempt and a student each print on one A4 sheet, from the dark page too', { timeout: 120_000 }, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const text = flownRecordingText({ pilot: 'hesitant', heightFt: 950 }).replace(
        '"student":null',
        '"student":"Ada Finch"',
      );
      const attemptId = await sendRecording(url, text);
      const { page } = await openPage(browser, `${url}/debrief/${attemptId}`, { colorScheme: 'dark' });
      await page.getByTestId('overall').waitFor();
      await page.locator('time-charts canvas').last().waitFor();
      const debrief = await page.pdf({ format: 'A4', printBackground: true });
      if (process.env.PRINTED !== undefined) writeFileSync(process.env.PRINTED, debrief);
      expect(pagesIn(debrief)).toBe(1);
      await page.emulateMedia({ media: 'print' });
      expect(await textOf(page, 'headline')).toMatch(/act within 3 s/);
      for (const hidden of ['replay-bar', 'pilot-errors']) expect(await page.locator(hidden).isVisible()).toBe(false);
      expect(await page.getByText('Simulator practice only.').first().isVisible()).toBe(true);
      await page.emulateMedia({ media: 'screen' });
      await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('light');
      await page.evaluate(() => dispatchEvent(new Event('afterprint')));
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBeUndefined();

      await page.goto(`${url}/compare?student=Ada+Finch`);
      await page.getByTestId('student-attempts').waitFor();
      expect(pagesIn(await page.pdf({ format: 'A4' }))).toBe(1);
    }),
  );
});
