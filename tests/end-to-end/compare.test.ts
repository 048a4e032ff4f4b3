// Five students side by side in a real Chromium: counts and medians held against the scores, sorted, two attempts set apart.
import { readFileSync } from 'node:fs';
import { Comparison, Score } from '@stillprop/contracts';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, until, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

const STUDENTS = ['Ada Finch', 'Bo Lark', '=Cy Heron', 'Di <b>Swift</b>', 'Ed Crake'];
const PILOTS = ['prompt', 'hesitant', 'shallow'];

/** Fifteen attempts, three of each student, each by another scripted pilot or from another height. */
async function fly(url: string): Promise<void> {
  for (const [s, student] of STUDENTS.entries()) {
    for (const [p, pilot] of PILOTS.entries()) {
      const text = flownRecordingText({ pilot, heightFt: 900 + 40 * s, rateHz: 10, seed: 3 + s });
      const id = `7f1f2f57-2c3d-4a55-9c11-0000000000${s}${p}`;
      const own = text
        .replace('7f1f2f57-2c3d-4a55-9c11-000000000001', id)
        .replace('"student":null', `"student":${JSON.stringify(student)}`)
        .replace('2026-01-31T09:30:00Z', `2026-01-31T${10 + p}:3${s}:00Z`);
      await sendRecording(url, own);
    }
  }
}

test('five students are compared, ordered and exported, and two attempts set against each other', {
  timeout: 240_000,
}, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const empty = await openPage(browser, `${url}/compare`);
      await empty.page.getByTestId('nothing-to-compare').waitFor();
      expect(await seriousAxeFindings(empty.page)).toEqual([]);
      await empty.page.context().close();

      await fly(url);
      const query = 'scenarioId=first-turn-back&rubricId=standard&rubricRevision=2';
      const comparison = await until('all are scored', 60_000, async () => {
        const found = Comparison.parse(await (await fetch(`${url}/api/compare/students?${query}`)).json());
        return found.students.reduce((sum, { attempts }) => sum + attempts, 0) === 15 ? found : undefined;
      });
      const { page, errors } = await openPage(browser, `${url}/compare`);
      await page.getByTestId('student-row').nth(4).waitFor();
      expect(await page.getByTestId('student-row').count()).toBe(5);
      const names = () => page.getByTestId('student-row').locator('th').allInnerTexts();
      expect(await names()).toEqual([...STUDENTS].sort((a, b) => a.localeCompare(b, 'en')));
      for (const { student, figures } of comparison.students) {
        const row = page.getByTestId('student-row').filter({ hasText: student ?? '' });
        expect(await row.locator('.median').first().textContent()).toBe(
          String(Math.round(figures.overall?.median ?? -1)),
        );
        expect(await row.locator('td').first().textContent()).toBe('3');
      }
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      expect(await seriousAxeFindings(page)).toEqual([]);

      await page.getByRole('button', { name: /^Score/ }).click();
      const medians = (await page.getByTestId('student-row').locator('td:nth-child(3) .median').allInnerTexts()).map(
        Number,
      );
      expect(medians).toEqual([...medians].sort((a, b) => b - a));
      await page.getByTestId('compare-name').fill('lark');
      await expect.poll(names).toEqual(['Bo Lark']);

      const [download] = await Promise.all([page.waitForEvent('download'), page.getByTestId('export-csv').click()]);
      const csv = readFileSync(await download.path(), 'utf8');
      expect(csv.trim().split('\r\n')).toHaveLength(16);
      expect(csv).toContain(",'=Cy Heron,");

      // One student's attempts, and what changed between two of them.
      await page.getByRole('link', { name: 'Bo Lark' }).click();
      await page.getByTestId('student-attempts').waitFor();
      expect(await page.getByTestId('student-attempts').locator('tbody tr').count()).toBe(3);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.getByRole('checkbox').nth(2).check();
      await page.getByRole('checkbox').nth(1).check();
      await page.getByTestId('difference-of-two').click();
      await page.getByTestId('difference').waitFor();
      const scores = await Promise.all(
        [0, 1].map(async (p) =>
          Score.parse(await (await fetch(`${url}/api/attempts/7f1f2f57-2c3d-4a55-9c11-00000000001${p}/score`)).json()),
        ),
      );
      const cells = async (name: string) =>
        page.getByTestId('difference').getByRole('row').filter({ hasText: name }).locator('td').allInnerTexts();
      const delays = scores.map(({ criteria }) => criteria.delay.measured ?? Number.NaN) as [number, number];
      const [a, b, difference] = (await cells('Delay'))
        .slice(0, 3)
        .map((text) => Number.parseFloat(text.replace('−', '-')));
      expect([a, b]).toEqual(delays.map((value) => Number(value.toFixed(1))));
      expect(difference).toBeCloseTo(delays[1] - delays[0], 1);
      expect((await page.locator('tracks-view').locator('path.track').count()) - 1).toBeGreaterThanOrEqual(2);
      expect(await textOf(page, 'difference')).toContain('Delay cost');
      expect(await seriousAxeFindings(page)).toEqual([]);
      expect(errors).toEqual([]);

      const phone = await openPage(browser, `${url}/compare`, {
        viewport: { width: 390, height: 844 },
        colorScheme: 'dark',
      });
      await phone.page.getByTestId('student-row').first().waitFor();
      expect(await phone.page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      expect(await seriousAxeFindings(phone.page)).toEqual([]);
    }),
  );
});
