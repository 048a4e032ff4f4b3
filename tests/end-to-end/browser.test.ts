// A pilot's evening in a real Chromium: start, Fly, arm, failure, Debrief, its figures held against the recording.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording, Score } from '@stillprop/contracts';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { numberIn, openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** `… +56 ft` is 56. */
const numberAtEnd = (row: string) => numberIn(row.replace(/\s+/g, ' ').match(/[+−]?[\d,]+ ft *$/)?.[0] ?? '');

test('from one click on Fly to a debrief whose figures are those of the recording', { timeout: 120_000 }, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const { page, errors } = await openPage(browser, url);
      await page.getByTestId('scenario-first-turn-back').check();
      await page.getByTestId('pilot').selectOption('hesitant');
      await page.getByTestId('speed').selectOption('10');
      await page.getByTestId('student').fill('Ada Finch');
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.getByTestId('fly-stand-in').click();

      // Armed, then climbing, then the engine stops at 1,000 ft: in words, in this order, with live figures.
      const state = (name: string) => page.locator(`[data-testid="exercise-text"][data-state="${name}"]`);
      await state('climbing').waitFor({ timeout: 30_000 });
      await page.waitForFunction(() => {
        const deep = (root: Document | ShadowRoot): Element | null => {
          const found = root.querySelector('[data-testid="live-height"]');
          if (found) return found;
          for (const host of root.querySelectorAll('*')) {
            const inside = host.shadowRoot && deep(host.shadowRoot);
            if (inside) return inside;
          }
          return null;
        };
        return Number((deep(document)?.textContent ?? '').replace(/[^\d]/g, '')) > 300;
      });
      expect(numberIn(await textOf(page, 'live-speed'))).toBeGreaterThan(85);
      expect(numberIn(await textOf(page, 'live-speed'))).toBeLessThan(100);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await state('watching').waitFor({ timeout: 30_000 });
      const atFailureFt = numberIn(await textOf(page, 'live-height'));
      expect(atFailureFt).toBeGreaterThan(950);
      expect(atFailureFt).toBeLessThan(1100);

      await page.waitForURL(/\/debrief\/[0-9a-f-]{36}$/, { timeout: 60_000 });
      await page.getByTestId('overall').waitFor();
      await page.getByTestId('cursor-height').waitFor();

      const attemptId = page.url().split('/').at(-1) as string;
      const recording = readRecording(readFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'utf8'));
      if (!recording.ok) throw new Error(recording.problem.message);
      const score = Score.parse(await (await fetch(`${url}/api/attempts/${attemptId}/score`)).json());
      expect(recording.recording.header.student).toBe('Ada Finch');
      expect(recording.recording.end?.reason).toBe('stopped');

      // The page against the score, and the score against the recording itself.
      expect(numberIn(await textOf(page, 'overall'))).toBe(score.overall);
      expect(await textOf(page, 'headline')).toBe(score.headline.replace(/\s+/g, ' '));
      expect(await textOf(page, 'verdict')).toContain(score.verdict.text.replace(/\s+/g, ' '));
      const costs = await page.getByTestId('costs').locator('tbody tr').allInnerTexts();
      expect(costs.map(numberAtEnd)).toEqual(
        [
          ...(score.costs?.rows ?? []),
          ...((score.costs?.rows.length ?? 0) > 1 ? [{ costFt: score.costs?.totalFt }] : []),
        ].map(({ costFt }) => costFt),
      );
      expect(costs.some((row) => row.includes('Acting after'))).toBe(true);
      for (const [name, criterion] of Object.entries(score.criteria)) {
        expect(numberIn(await textOf(page, `criterion-${name}-score`)), name).toBe(Math.round(criterion.score ?? -1));
      }
      const { samples } = recording.recording;
      const failedAtS =
        samples.find((sample) => (sample.powerFraction ?? 1) < 0.97 && !sample.onGround)?.timeS ?? Number.NaN;
      const rolledAtS =
        samples.find((sample) => sample.timeS > failedAtS && Math.abs(sample.bankDeg) > 4)?.timeS ?? Number.NaN;
      const delayS = numberIn(await textOf(page, 'criterion-delay-measured'));
      expect(Math.abs(delayS - (rolledAtS - failedAtS))).toBeLessThan(0.3);
      const atLoss = samples.find((sample) => sample.timeS >= failedAtS);
      expect(Math.abs((score.failure?.heightFt ?? 0) - (atLoss?.heightFt ?? 0))).toBeLessThan(5);
      expect(Math.abs((score.failure?.heightFt ?? 0) - 1000)).toBeLessThan(10);
      const touchdown = samples.find((sample) => sample.timeS > failedAtS && sample.onGround);
      const contact = score.events.find((event) => event.code === 'contact');
      expect(Math.abs((contact?.atS ?? 0) - (touchdown?.timeS ?? Number.NaN))).toBeLessThan(0.2);
      expect(score.criteria.delay.score).toBeLessThan(60);

      // One cursor for all charts, moved by keyboard.
      const before = numberIn(await textOf(page, 'cursor-time'));
      await page.getByRole('slider', { name: 'Moment in the flight' }).focus();
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      await expect.poll(async () => numberIn(await textOf(page, 'cursor-time'))).toBeGreaterThan(before);
      expect(await seriousAxeFindings(page)).toEqual([]);

      // Replay: all pictures move together, and what stands under the cursor is what was recorded then.
      const places = () =>
        Promise.all(
          ['plan-view', 'profile-view'].map((view) => page.locator(view).locator('.moment').getAttribute('cx')),
        );
      const placesBefore = await places();
      const playedFrom = numberIn(await textOf(page, 'cursor-time'));
      await page.getByTestId('replay-speed').selectOption('8');
      await page.getByTestId('replay').click();
      await expect.poll(async () => numberIn(await textOf(page, 'cursor-time'))).toBeGreaterThan(playedFrom + 5);
      await page.getByTestId('replay').click();
      await page.getByRole('button', { name: '1 s back' }).click();
      const shownS = numberIn(await textOf(page, 'cursor-time'));
      await page.getByRole('button', { name: '1 s on' }).click();
      await expect.poll(async () => numberIn(await textOf(page, 'cursor-time'))).toBeCloseTo(shownS + 1, 1);
      const placesAfter = await places();
      for (const [i, cx] of placesAfter.entries()) expect(cx).not.toBe(placesBefore[i]);
      const shown = samples.filter(({ timeS }) => Math.abs(timeS - (score.failure?.atS ?? 0) - shownS - 1) < 0.3);
      const shownFt = numberIn(await textOf(page, 'cursor-height'));
      expect(Math.min(...shown.map(({ heightFt }) => Math.abs((heightFt ?? 0) - shownFt)))).toBeLessThan(3);

      // The same failure flown as asked, by the model, is drawn beside it, and taken away by its box.
      const ghosts = page.locator('path.ghost');
      await expect.poll(() => ghosts.count()).toBe(2);
      await page.getByTestId('ghost').uncheck();
      await expect.poll(() => ghosts.count()).toBe(0);

      // The list has it, with the same score, and leads back to it.
      await page.getByRole('link', { name: 'Debrief', exact: true }).click();
      await page.getByTestId('attempt-row').waitFor();
      expect(await page.getByTestId('attempt-row').count()).toBe(1);
      expect(await textOf(page, 'attempt-row')).toContain('Ada Finch');
      expect(await textOf(page, 'attempt-row')).toContain(String(score.overall));
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.getByTestId('attempt-row').getByRole('link').first().click();
      await page.waitForURL(new RegExp(attemptId));
      expect(errors).toEqual([]);
    }),
  );
});

test('an attempt can be stopped by the person, and the page says so and opens its debrief', {
  timeout: 120_000,
}, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const { page, errors } = await openPage(browser, url, {
        viewport: { width: 390, height: 844 },
        colorScheme: 'dark',
      });
      await page.getByTestId('speed').selectOption('10');
      await page.getByTestId('fly-stand-in').click();
      await page.locator('[data-testid="exercise-text"][data-state="climbing"]').waitFor({ timeout: 30_000 });
      await page.getByTestId('stop').click();
      await page.waitForURL(/\/debrief\/[0-9a-f-]{36}$/, { timeout: 60_000 });
      const attemptId = page.url().split('/').at(-1) as string;
      const recording = readRecording(readFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'utf8'));
      expect(recording.ok && recording.recording.end?.reason).toBe('instructor');
      await page.getByTestId('finding-no-failure').waitFor();
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(overflow).toBeLessThanOrEqual(0);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.setViewportSize({ width: 1280, height: 720 });
      await page.goto(`${url}/debrief`);
      await page.getByTestId('attempt-row').first().waitFor();
      const columns = await columnEdges(page);
      expect(columns).toHaveLength(2);
      for (const column of columns) expect(column.value - column.header).toBeCloseTo(0, 0);
      expect(errors).toEqual([]);

      const lost = await openPage(browser, `${url}/nonsense`);
      await lost.page.getByRole('heading', { name: 'There is no page at /nonsense.' }).waitFor();
      await lost.page.getByRole('link', { name: 'Fly' }).last().click();
      await lost.page.getByTestId('scenario-first-turn-back').waitFor();
    }),
  );
});

/** Where the words of header and first value of each right-aligned column of the list of attempts end (px). */
function columnEdges(page: Page): Promise<{ header: number; value: number }[]> {
  return page.getByTestId('attempts').evaluate((table) => {
    const endOf = (cell: Element) => {
      const range = document.createRange();
      range.selectNodeContents(cell);
      return Math.max(...Array.from(range.getClientRects(), ({ right }) => right));
    };
    const headers = [...table.querySelectorAll('thead th')];
    const cells = [...table.querySelectorAll('tbody tr:first-child td')];
    return headers.flatMap((header, i) => {
      if (getComputedStyle(header).textAlign !== 'right') return [];
      const words = cells[i]?.querySelector('a, span') ?? header;
      return [{ header: endOf(header), value: endOf(words) }];
    });
  });
}
