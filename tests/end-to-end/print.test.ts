// On paper: one sheet for an attempt and one for a student, light whatever the theme, with the words that matter.
import { randomUUID } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import type { Note } from '@stillprop/contracts';
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

async function addNote(url: string, attemptId: string, text: string) {
  const note: Note = {
    id: randomUUID(),
    atS: null,
    author: 'instructor',
    name: 'Mo Teal',
    text: text.trim(),
    writtenAt: '2026-03-01T10:12:00Z',
  };
  const response = await fetch(`${url}/api/attempts/${attemptId}/notes`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(note),
  });
  if (response.status !== 201) throw new Error(await response.text());
}

test('an attempt and a student each print on one A4 sheet, from the dark page too', { timeout: 120_000 }, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const text = flownRecordingText({ pilot: 'hesitant', heightFt: 950 }).replace(
        '"student":null',
        '"student":"Ada Finch"',
      );
      const attemptId = await sendRecording(url, text);
      await addNote(url, attemptId, 'Look at the speed before the bank.');
      const { page } = await openPage(browser, `${url}/debrief/${attemptId}`, { colorScheme: 'dark' });
      await page.getByTestId('overall').waitFor();
      await page.getByTestId('note').waitFor();
      await page.locator('time-charts canvas').last().waitFor();
      const debrief = await page.pdf({ format: 'A4', printBackground: true });
      if (process.env.PRINTED !== undefined) writeFileSync(process.env.PRINTED, debrief);
      expect(pagesIn(debrief)).toBe(1);
      await page.emulateMedia({ media: 'print' });
      expect(await textOf(page, 'headline')).toMatch(/act within 3 s/);
      expect(await page.getByTestId('note-words').isVisible()).toBe(true);
      for (const hidden of ['replay-bar', 'pilot-errors', '[data-testid="add-note"]', '[data-testid="note-remove"]'])
        expect(await page.locator(hidden).isVisible()).toBe(false);
      expect(await page.getByText('Simulator practice only.').first().isVisible()).toBe(true);
      await page.emulateMedia({ media: 'screen' });
      await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('light');
      await page.evaluate(() => dispatchEvent(new Event('afterprint')));
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBeUndefined();

      // Notes that the sheet has no room for stay on the screen, all of them: some would mislead.
      await addNote(url, attemptId, 'A long talk about the flare. '.repeat(60));
      await page.emulateMedia({ media: null });
      await page.reload();
      await page.getByTestId('note').last().waitFor();
      await page.locator('time-charts canvas').last().waitFor();
      expect(pagesIn(await page.pdf({ format: 'A4', printBackground: true }))).toBe(1);
      await page.emulateMedia({ media: 'print' });
      expect(await page.getByTestId('note-words').first().isVisible()).toBe(false);

      await page.goto(`${url}/compare?student=Ada+Finch`);
      await page.getByTestId('student-attempts').waitFor();
      expect(pagesIn(await page.pdf({ format: 'A4' }))).toBe(1);
    }),
  );
});
