// A real Chromium for the end-to-end tests, and what a page is held against: no console error, no serious axe finding.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export function startBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

export interface WatchedPage {
  readonly page: Page;
  /** Errors the page put on the console or threw, so far. */
  readonly errors: string[];
}

export async function openPage(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, locale: 'en-GB', ...options });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.goto(url);
  return { page, errors };
}

/** Findings of axe, WCAG 2.2 AA and below, one line each. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(
          context: Document,
          options: object,
        ): Promise<{
          violations: { id: string; impact: string; nodes: { target: unknown[] }[] }[];
        }>;
      };
    };
    const { violations } = await axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      resultTypes: ['violations'],
    });
    return violations.map(
      ({ id, impact, nodes }) => `${impact} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`,
    );
  });
}

/** Those that are serious or critical. */
export async function seriousAxeFindings(page: Page): Promise<string[]> {
  return (await axeFindings(page)).filter((finding) => /^(serious|critical) /.test(finding));
}

/** Text of a test hook, its spaces of any kind as plain ones. */
export async function textOf(page: Page, testId: string): Promise<string> {
  return ((await page.getByTestId(testId).first().textContent()) ?? '').replace(/\s+/g, ' ').trim();
}

export const numberIn = (text: string) =>
  Number(
    text
      .replace('−', '-')
      .replace(/,/g, '')
      .match(/-?\d+(\.\d+)?/)?.[0] ?? Number.NaN,
  );
