// Every page in every state, both themes and two sizes: no finding of axe, nothing wider than the window, nothing that moves.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings, openPage, startBrowser } from '../support/browser.js';
import { PAGE_STATES, serverWithAttempts } from '../support/pageStates.js';

/** Colours do not hang on the size, nor places on the colours: one of each pair is enough. */
const LOOKS = [
  { size: 'wide', viewport: { width: 1280, height: 720 }, colorScheme: 'light' },
  { size: 'phone', viewport: { width: 390, height: 844 }, colorScheme: 'dark' },
] as const;
/** What is left of 1280×720 at 200 %. */
const ZOOMED = { width: 640, height: 360 };

let browser: Browser;
let server: Awaited<ReturnType<typeof serverWithAttempts>>;
beforeAll(async () => {
  [browser, server] = await Promise.all([startBrowser(), serverWithAttempts()]);
});
afterAll(async () => {
  await browser.close();
  await server.close();
});

const overflowPx = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
const moving = (page: Page) =>
  page.evaluate(
    () => document.getAnimations().filter(({ effect }) => Number(effect?.getComputedTiming().duration) > 0).length,
  );

test.each(PAGE_STATES)('$name', async ({ path, before, shows }) => {
  const { page } = await openPage(browser, 'about:blank', { reducedMotion: 'reduce' });
  await before?.(page);
  await page.goto(server.url + path);
  await page.locator(shows).waitFor();
  const found: string[] = [];
  for (const { size, viewport, colorScheme } of LOOKS) {
    await page.setViewportSize(viewport);
    await page.emulateMedia({ colorScheme });
    found.push(...(await axeFindings(page)).map((finding) => `${size}, ${colorScheme}: ${finding}`));
    const overflow = await overflowPx(page);
    if (overflow > 0) found.push(`${size}, ${colorScheme}: ${overflow} px wider than the window`);
  }
  await page.setViewportSize(ZOOMED);
  const overflow = await overflowPx(page);
  if (overflow > 0) found.push(`at 200 %: ${overflow} px wider than the window`);
  if ((await moving(page)) > 0) found.push('something moves though less motion was asked for');
  expect(found).toEqual([]);
  await page.context().close();
});

/** Element with the focus, through shadow roots; and whether anybody sees it there. As text: what compiles this file would change it. */
const FOCUSED = `(() => {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  if (!element || element === document.body) return null;
  const { outlineStyle, outlineWidth } = getComputedStyle(element);
  window.focusSeen ??= new Set();
  const again = window.focusSeen.has(element);
  window.focusSeen.add(element);
  return { again, name: element.outerHTML.slice(0, 120), outlined: outlineStyle !== 'none' && parseFloat(outlineWidth) >= 1 };
})()`;
/** Controls on show that the keyboard has not come to; of radio buttons one of a group is enough. */
const NOT_REACHED = `(() => {
  window.focusSeen ??= new Set();
  const all = (root) => [...root.querySelectorAll('*')].flatMap((each) => [each, ...(each.shadowRoot ? all(each.shadowRoot) : [])]);
  return all(document)
    .filter((each) => each.matches('a[href], button, input, select, textarea, summary, [tabindex]'))
    .filter((each) => each.tabIndex >= 0 && !each.disabled && !(each.type === 'radio' && !each.checked))
    .filter((each) => each.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true }) && !window.focusSeen.has(each))
    .map((each) => each.outerHTML.slice(0, 120));
})()`;
const MOST_STOPS = 150;

test.each(
  PAGE_STATES.filter(({ name }) =>
    ['list', 'attempt', 'compare', 'compare-student', 'fly-ready', 'fly-flying', 'link'].includes(name),
  ),
)('$name: the keyboard comes to every control, and is seen there', async ({ path, before, shows }) => {
  const { page } = await openPage(browser, 'about:blank', { reducedMotion: 'reduce' });
  await before?.(page);
  await page.goto(server.url + path);
  await page.locator(shows).waitFor();
  await page.waitForLoadState('networkidle');
  expect(((await page.evaluate(NOT_REACHED)) as string[]).length).toBeGreaterThan(4);
  const unseen: string[] = [];
  let stops = 0;
  for (; stops < MOST_STOPS; stops++) {
    await page.keyboard.press('Tab');
    const focused = (await page.evaluate(FOCUSED)) as { again: boolean; name: string; outlined: boolean } | null;
    if (focused === null || focused.again) break;
    if (!focused.outlined) unseen.push(focused.name);
  }
  expect(stops).toBeGreaterThan(4);
  expect(stops).toBeLessThan(MOST_STOPS);
  expect(unseen).toEqual([]);
  expect(await page.evaluate(NOT_REACHED)).toEqual([]);
  await page.context().close();
});
