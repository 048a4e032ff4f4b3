// Ten thousand attempts of 500 students in a real Chromium: what comes over the wire and stands in a page stays one page.
import { AttemptList, Comparison } from '@stillprop/contracts';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { BUSIEST, fillStore, indexedId } from '../support/filledStore.js';

const ATTEMPTS = 10_000;
const STUDENTS = 500;
/** No answer for a page of rows may be larger, nor a page hold more elements, however many attempts there are. */
const MOST_BYTES = 40_000;
const MOST_ELEMENTS = 3000;

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** Sizes of the API's answers to a page, as they come. */
function watchAnswers(page: Page): Promise<{ path: string; bytes: number }>[] {
  const answers: Promise<{ path: string; bytes: number }>[] = [];
  page.on('response', (response) => {
    const { pathname } = new URL(response.url());
    if (pathname.startsWith('/api/'))
      answers.push(response.body().then((body) => ({ path: pathname, bytes: body.length })));
  });
  return answers;
}

/** Elements in the page, those within its elements' own trees too. As text: what compiles this file would add calls to it. */
const COUNT_ELEMENTS = `(function count(root) {
  return [...root.querySelectorAll('*')].reduce((sum, each) => sum + 1 + (each.shadowRoot ? count(each.shadowRoot) : 0), 0);
})(document)`;

test('10,000 attempts are listed and compared a page at a time', { timeout: 120_000 }, async () => {
  await inTemporaryFolder(async (dir) => {
    await fillStore(dir, { attempts: ATTEMPTS, students: STUDENTS });
    await withStillprop(dir, async ({ url }) => {
      const { page, errors } = await openPage(browser, 'about:blank');
      const answers = watchAnswers(page);
      const bounded = async () => {
        expect(Number(await page.evaluate(COUNT_ELEMENTS))).toBeLessThanOrEqual(MOST_ELEMENTS);
        for (const { path, bytes } of await Promise.all(answers))
          expect([path, bytes <= MOST_BYTES]).toEqual([path, true]);
      };

      await page.goto(`${url}/debrief`);
      await page.getByTestId('attempt-row').first().waitFor();
      expect(await textOf(page, 'attempts-total')).toBe('10,000 attempts, newest first');
      expect(await page.getByTestId('attempt-row').count()).toBe(20);
      const newest = await page.getByTestId('attempt-row').first().getByRole('link').first().getAttribute('href');
      expect(newest).toBe(`/debrief/${indexedId(ATTEMPTS - 1)}`);
      await page.getByTestId('older').click();
      await expect
        .poll(() => page.getByTestId('attempt-row').first().getByRole('link').first().getAttribute('href'))
        .toBe(`/debrief/${indexedId(ATTEMPTS - 21)}`);
      await bounded();

      // Students: by name, by score, the last page; each row as the server has it.
      const query = 'scenarioId=first-turn-back&rubricId=standard&rubricRevision=2';
      const asked = async (more: string) =>
        Comparison.parse(await (await fetch(`${url}/api/compare/students?${query}&${more}`)).json());
      const whole = await asked('limit=1');
      expect(whole).toMatchObject({ attempts: ATTEMPTS, total: STUDENTS });
      const names = () => page.getByTestId('student-row').locator('th').allInnerTexts();
      await page.goto(`${url}/compare`);
      await page.getByTestId('student-row').first().waitFor();
      expect(await textOf(page, 'compared')).toMatch(/^10,000 attempts of 500 pilots\./);
      expect(await page.getByTestId('student-row').count()).toBe(25);
      expect(await textOf(page, 'page-place')).toBe('Page 1 of 20');
      await bounded();
      await page.getByRole('button', { name: /^Score/ }).click();
      const best = (await asked('order=overall&downwards=true&limit=25')).students.map(({ student }) => student);
      await expect.poll(names).toEqual(best);
      await page.getByTestId('page-after').click();
      const next = (await asked('order=overall&downwards=true&limit=25&page=2')).students.map(({ student }) => student);
      await expect.poll(names).toEqual(next);
      await page.goto(`${url}/compare?page=20`);
      await expect.poll(async () => (await names()).length).toBe(25);
      expect(await page.getByTestId('page-after').count()).toBe(0);
      await page.getByTestId('compare-name').fill('zz');
      await page.getByTestId('none-left').waitFor();
      await page.getByTestId('compare-name').fill('AVOCET');
      await expect.poll(() => textOf(page, 'compared')).toMatch(/ out of 10,000 attempts of 25 pilots/);
      await bounded();

      // The busiest of them: more attempts than any page, to the very first by way of "Older".
      await page.getByRole('link', { name: BUSIEST }).click();
      await page.getByTestId('student-attempts').waitFor();
      const own = AttemptList.parse(
        await (await fetch(`${url}/api/attempts?limit=1&student=${encodeURIComponent(BUSIEST)}`)).json(),
      ).total;
      expect(own).toBeGreaterThan(200);
      expect(await textOf(page, 'attempts-count')).toBe(`${own} attempts`);
      const rows = page.getByTestId('student-attempts').locator('tbody tr');
      const seen: string[] = [];
      for (let pages = 0; pages < Math.ceil(own / 25); pages += 1) {
        await expect.poll(() => rows.count()).toBe(Math.min(25, own - 25 * pages));
        const first = rows.first().getByRole('link');
        await expect.poll(() => first.getAttribute('href')).not.toBe(seen[25 * (pages - 1)]);
        seen.push(
          ...(await rows
            .getByRole('link')
            .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? ''))),
        );
        if (pages === 0) await bounded();
        if (25 * (pages + 1) < own) await page.getByTestId('older').click();
      }
      expect(new Set(seen).size).toBe(own);
      expect(seen.at(-1)).toBe(`/debrief/${indexedId(0)}`);
      expect(await page.getByTestId('older').count()).toBe(0);
      // Over time: steps, not hundreds of dots, and the trend in words.
      expect(await page.getByTestId('progress').locator('figure').first().locator('.dot').count()).toBe(40);
      expect(await textOf(page, 'progress')).toMatch(/First five .*, last five /);
      await bounded();
      expect(errors).toEqual([]);
    });
  });
});
