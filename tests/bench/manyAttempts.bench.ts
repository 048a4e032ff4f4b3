// The page Compare over 10,000 attempts against the same page over 100: both a page of 20 students or more.
import type { Page } from 'playwright-core';
import type { Ratio } from '../../.tools/sideBySide.js';
import { openPage, startBrowser } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { fillStore } from '../support/filledStore.js';

const ROUNDS = 7;
const FEW = { attempts: 100, students: 25 };
const MANY = { attempts: 10_000, students: 500 };

export default async function manyAttempts(): Promise<Ratio[]> {
  const ratios: number[] = [];
  await withFilled(FEW, (few) =>
    withFilled(MANY, async (many) => {
      const browser = await startBrowser();
      try {
        const { page } = await openPage(browser, 'about:blank');
        for (const url of [few, many]) await shownMs(page, url); // to warm up
        for (let round = 0; round < ROUNDS; round += 1) {
          const fewMs = await shownMs(page, few);
          ratios.push((await shownMs(page, many)) / fewMs);
        }
      } finally {
        await browser.close();
      }
    }),
  );
  const ratio = ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
  return [{ name: 'the page Compare over 10,000 attempts / over 100', ratio, goal: 2, better: 'lower' }];
}

function withFilled(amount: typeof FEW, use: (url: string) => Promise<void>): Promise<void> {
  return inTemporaryFolder(async (dir) => {
    await fillStore(dir, amount);
    await withStillprop(dir, ({ url }) => use(url));
  });
}

/** From asking for the page to its rows standing there. */
async function shownMs(page: Page, url: string): Promise<number> {
  const start = performance.now();
  await page.goto(`${url}/compare`);
  await page.getByTestId('student-row').nth(19).waitFor();
  return performance.now() - start;
}
