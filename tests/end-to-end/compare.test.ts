// Five students side by side in a real Chromium: held against the scores, sorted, narrowed, on one sheet; attempts together.
import { readFileSync, writeFileSync } from 'node:fs';
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
const PILOTS = ['prompt', 'hesitant', 'lands-ahead'];

/** With the margins of a printer. */
const A4 = { format: 'A4', margin: { top: '1cm', right: '1cm', bottom: '1cm', left: '1cm' } };
/** Pages of a PDF, by its own count. */
const pagesIn = (pdf: Buffer) => Number(/\/Type\s*\/Pages[^>]*?\/Count\s+(\d+)/s.exec(pdf.toString('latin1'))?.[1]);

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
      // All five with their spread on the first screen of a lab, and on one sheet in black and white.
      const last = await page.getByTestId('student-row').nth(4).boundingBox();
      expect((last?.y ?? 0) + (last?.height ?? 0)).toBeLessThanOrEqual(720);
      for (const drawing of await page.locator('.spread-drawing').all()) expect(await drawing.isVisible()).toBe(true);
      expect(await page.locator('.spread-drawing').count()).toBeGreaterThanOrEqual(5 * 4);
      const sheet = await page.pdf(A4);
      if (process.env.PRINTED !== undefined) writeFileSync(process.env.PRINTED, sheet);
      expect(pagesIn(sheet)).toBe(1);
      await page.emulateMedia({ media: 'print' });
      const inks = await page.locator('compare-page').evaluate((host) => [
        ...new Set(
          [...(host.shadowRoot?.querySelectorAll('td *, th *') ?? [])].flatMap((part) => {
            const { color, stroke, fill } = getComputedStyle(part);
            return [color, ...(part instanceof SVGGeometryElement ? [stroke, fill] : [])];
          }),
        ),
      ]);
      expect(inks.filter((ink) => !['rgb(0, 0, 0)', 'rgb(255, 255, 255)', 'none'].includes(ink))).toEqual([]);
      expect(await page.locator('.paper-only').isVisible()).toBe(true);
      // Nothing of the table hangs over the paper's edge.
      await page.setViewportSize({ width: 718, height: 1047 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      await page.setViewportSize({ width: 1280, height: 720 });
      await page.emulateMedia({ media: 'screen' });

      await page.getByRole('button', { name: /^Score/ }).click();
      await page.waitForURL(/order=overall&down=1/);
      const byScore = comparison.students.map(({ figures }) => Math.round(figures.overall?.median ?? -1));
      await expect
        .poll(async () =>
          (await page.getByTestId('student-row').locator('td:nth-child(3) .median').allInnerTexts()).map(Number),
        )
        .toEqual(byScore.sort((a, b) => b - a));
      const exported = async () => {
        const [download] = await Promise.all([page.waitForEvent('download'), page.getByTestId('export-csv').click()]);
        return readFileSync(await download.path(), 'utf8');
      };
      const csv = await exported();
      expect(csv.trim().split('\r\n')).toHaveLength(16);
      expect(csv).toContain(",'=Cy Heron,");

      // Narrowed: by outcome with its count, by height, by name; all of it in the address, which another reader opens.
      await page.getByTestId('filters').locator('summary').click();
      const [outcome] = comparison.outcomes;
      if (outcome === undefined) throw new Error('no outcome');
      await page.getByTestId(`outcome-${outcome.outcome}`).check();
      await expect.poll(() => textOf(page, 'compared')).toMatch(new RegExp(`^${outcome.attempts} out of 15 attempts`));
      await page.getByTestId('from-height').fill('930');
      await page.getByTestId('to-day').fill('2026-02-01');
      await page.getByTestId('compare-name').fill('lark');
      await expect.poll(names).toEqual(['Bo Lark']);
      expect(await seriousAxeFindings(page)).toEqual([]);
      const shared = new URL(page.url());
      expect(shared.search).toContain(`outcome=${outcome.outcome}&to=2026-02-01&above=930&name=lark`);
      expect(await textOf(page, 'narrowed')).toMatch(
        /name with “lark”; .*; flown up to 1 Feb 2026; power lost from 930 ft on/,
      );
      const narrowRows = (await exported()).trim().split('\r\n').slice(1);
      expect(narrowRows.length).toBeGreaterThan(0);
      for (const row of narrowRows) expect(row).toMatch(/,Bo Lark,/);
      const other = await openPage(browser, shared.href);
      await other.page.getByTestId('student-row').waitFor();
      expect(await textOf(other.page, 'compared')).toBe(await textOf(page, 'compared'));
      await other.page.getByTestId('show-all').click();
      await expect.poll(() => other.page.getByTestId('student-row').count()).toBe(5);
      await other.page.context().close();
      await page.getByTestId('show-all').click();
      await expect.poll(() => page.getByTestId('student-row').count()).toBe(5);

      // One student's attempts, and what changed between two of them.
      await page.getByRole('link', { name: 'Bo Lark' }).click();
      await page.getByTestId('student-attempts').waitFor();
      expect(await page.getByTestId('student-attempts').locator('tbody tr').count()).toBe(3);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.getByTestId('student-attempts').getByRole('checkbox').nth(2).check();
      await page.getByTestId('student-attempts').getByRole('checkbox').nth(1).check();
      await page.getByTestId('show-together').click();
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
      expect((await page.locator('tracks-view').locator('path.track').count()) - 1).toBeGreaterThanOrEqual(4);
      expect(await textOf(page, 'difference')).toContain('Delay cost');
      expect(await seriousAxeFindings(page)).toEqual([]);

      // More, of another student too: what is ticked is kept on the way, and eight are as many as there may be.
      await page.getByRole('link', { name: 'Back to the comparison' }).click();
      await page.getByTestId('student-attempts').getByRole('checkbox').first().check();
      for (const name of ['Ada Finch', 'Ed Crake']) {
        await page.getByRole('link', { name: 'All students' }).click();
        await page.getByRole('link', { name }).click();
        await page.getByRole('heading', { name }).waitFor();
        for (let i = 0; i < (name === 'Ada Finch' ? 3 : 2); i += 1)
          await page.getByTestId('student-attempts').getByRole('checkbox').nth(i).check();
      }
      expect(await textOf(page, 'ticked')).toMatch(/8 attempts are ticked: more cannot be told apart/);
      expect(await page.getByTestId('student-attempts').getByRole('checkbox').nth(2).isDisabled()).toBe(true);
      expect(await page.getByTestId('progress').getByRole('img').count()).toBe(6);
      await page.getByTestId('show-together').click();
      await page.getByTestId('together').waitFor();
      const drawn = page.locator('tracks-view').locator('path.track');
      await expect.poll(() => drawn.count()).toBeGreaterThanOrEqual(17);
      const dashes = new Set(
        await drawn.evaluateAll((paths) => paths.map((path) => path.getAttribute('stroke-dasharray'))),
      );
      expect(dashes.size - 1).toBe(8); // and the line that shows the scale has none
      const labels = await page.locator('tracks-view').locator('text.name').allTextContents();
      expect([...labels].sort().join('')).toBe('AABBCCDDEEFFGGHH');
      const together = await page.getByTestId('together').locator('tbody tr').allInnerTexts();
      expect(together).toHaveLength(8);
      for (const name of ['Ada Finch', 'Bo Lark', 'Ed Crake']) expect(together.join()).toContain(name);
      expect(await seriousAxeFindings(page)).toEqual([]);
      expect(pagesIn(await page.pdf(A4))).toBe(1);
      await page.setViewportSize({ width: 390, height: 844 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
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
