// Flies the stand-in in a temporary folder and takes a picture of every page, in both themes and two sizes, to be looked at.
// Run: npx tsx --conditions=source tests/support/takeScreenshots.ts FOLDER
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { openPage, startBrowser } from './browser.js';
import { inTemporaryFolder, withStillprop } from './command.js';
import { COLUMNS, unknownSimulator } from './unknownSimulator.js';

const SIZES = { wide: { width: 1280, height: 720 }, phone: { width: 390, height: 844 } };
const THEMES = ['light', 'dark'] as const;
type Size = (typeof SIZES)[keyof typeof SIZES];
type Theme = (typeof THEMES)[number];

const folder = process.argv[2] ?? 'screenshots';
mkdirSync(folder, { recursive: true });

async function flown(page: Page, url: string, pilot: string, student: string): Promise<void> {
  await page.goto(`${url}/fly`);
  await page.getByTestId('pilot').selectOption(pilot);
  await page.getByTestId('speed').selectOption('20');
  await page.getByTestId('student').fill(student);
  await page.getByTestId('fly-stand-in').click();
  await page.waitForURL(/\/debrief\/[0-9a-f-]{36}$/, { timeout: 120_000 });
  await page.getByTestId('overall').waitFor();
}

await inTemporaryFolder((dir) =>
  withStillprop(dir, async ({ url }) => {
    const browser = await startBrowser();
    /** The page Link before it listens, and with a stream half taught. */
    const linkShots = async (url: string, viewport: Size, colorScheme: Theme, path: (state: string) => string) => {
      const { page } = await openPage(browser, url, { viewport, colorScheme, reducedMotion: 'reduce' });
      await page.getByTestId('listen').waitFor();
      await page.screenshot({ path: path('quiet'), fullPage: true });
      await page.getByTestId('listen-port').fill('47291');
      await page.getByTestId('listen').click();
      const simulator = await unknownSimulator(47_291, 4);
      try {
        await page.getByTestId('slot-9').waitFor();
        await page.getByTestId(`assign-${COLUMNS.altitudeFt}`).selectOption('altitudeFt');
        await page.getByTestId(`assign-${COLUMNS.bankDeg}`).selectOption('bankDeg');
        await page.waitForTimeout(1000);
        await page.screenshot({ path: path('heard') });
        await page.screenshot({ path: path('heard-full'), fullPage: true });
        await page.getByTestId('stop-listening').click();
        await page.getByText('Not listening.').waitFor();
      } finally {
        simulator.close();
        await page.context().close();
      }
    };
    try {
      const { page } = await openPage(browser, `${url}/debrief`);
      await page.getByTestId('no-attempts').waitFor();
      await page.screenshot({ path: join(folder, 'list-empty.png') });
      const debriefs: Record<string, string> = {};
      for (const [pilot, student] of [
        ['hesitant', 'Ada Finch'],
        ['shallow', 'Bo Lark'],
        ['overbanked', 'Cy Heron'],
        ['lands-ahead', 'Di Swift'],
        ['never-reacts', 'Ed Crake'],
        ['prompt', 'Fay Wren'],
      ] as const) {
        await flown(page, url, pilot, student);
        debriefs[pilot] = page.url();
      }
      for (const theme of THEMES) {
        for (const [name, viewport] of Object.entries(SIZES)) {
          const shot = async (path: string, label: string) => {
            const { page: one } = await openPage(browser, path, {
              viewport,
              colorScheme: theme,
              reducedMotion: 'reduce',
            });
            await one.waitForLoadState('networkidle');
            await one.waitForTimeout(400);
            await one.screenshot({ path: join(folder, `${label}-${theme}-${name}.png`) });
            await one.screenshot({ path: join(folder, `${label}-${theme}-${name}-full.png`), fullPage: true });
            await one.context().close();
          };
          await shot(`${url}/fly`, 'fly');
          await shot(`${url}/debrief`, 'list');
          for (const [pilot, path] of Object.entries(debriefs)) await shot(path, `debrief-${pilot}`);
          await linkShots(`${url}/link`, viewport, theme, (state) =>
            join(folder, `link-${state}-${theme}-${name}.png`),
          );
          const { page: live } = await openPage(browser, `${url}/fly`, { viewport, colorScheme: theme });
          await live.getByTestId('pilot').selectOption('prompt');
          await live.getByTestId('speed').selectOption('10');
          await live.getByTestId('fly-stand-in').click();
          await live.locator('[data-testid="exercise-text"][data-state="climbing"]').waitFor();
          await live.waitForTimeout(2000);
          await live.screenshot({ path: join(folder, `live-climbing-${theme}-${name}.png`) });
          await live.locator('[data-testid="exercise-text"][data-state="watching"]').waitFor();
          await live.waitForTimeout(1000);
          await live.screenshot({ path: join(folder, `live-watching-${theme}-${name}.png`) });
          await live.waitForURL(/\/debrief\//, { timeout: 120_000 });
          await live.context().close();
        }
      }
    } finally {
      await browser.close();
    }
  }),
);
