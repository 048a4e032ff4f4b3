import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Locator, type Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';

const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
const ARGS = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'];
let browser: Browser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    resolve: { conditions: ['source', 'module', 'browser', 'development|production'] },
    build: {
      write: false,
      target: 'es2022',
      lib: { entry: fileURLToPath(new URL('elements.browser.ts', import.meta.url)), formats: ['es'], fileName: 'page' },
    },
  });
  const [bundle] = [built].flat();
  if (!bundle || !('output' in bundle)) throw new Error('nothing was built');
  browser = await chromium.launch({ executablePath: CHROMIUM, args: ARGS });
  page = await browser.newPage({ viewport: { width: 800, height: 1800 } });
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  await page.setContent('<style>:root { --ink: #111; --accent: #145; --paper: #fff }</style>');
  await page.addScriptTag({ content: bundle.output[0].code, type: 'module' });
  await page.locator('time-charts canvas').last().waitFor();
});
afterAll(() => browser?.close());

/** What an element says, with plain spaces. */
const said = async (locator: Locator) => ((await locator.textContent()) ?? '').replace(/\s+/g, ' ').trim();
const text = (testId: string) => said(page.getByTestId(testId));
const cursor = () =>
  page.locator('time-charts').evaluate((charts) => (charts as unknown as { cursorS: number }).cursorS);

test('each criterion shows what was measured; a missing one says so and is not zero', async () => {
  expect(await text('criterion-delay-measured')).toBe('4.1 s');
  expect(await text('criterion-touchdown-measured')).toBe('not measured');
  expect(await text('criterion-touchdown-score')).toContain('not scored');
});

test('the four charts share one cursor, moved by key, and say what stands under it', async () => {
  expect(await page.locator('time-charts canvas').count()).toBe(4);
  expect(await text('cursor-height')).toBe('1,000 ft');
  await page.getByRole('slider', { name: 'Moment in the flight' }).focus();
  for (let press = 0; press < 9; press++) await page.keyboard.press('Shift+ArrowRight');
  for (let press = 0; press < 2; press++) await page.keyboard.press('ArrowRight'); // samples are half a second apart
  expect(await cursor()).toBeCloseTo(70, 6);
  expect(await text('cursor-time')).toBe('at 10.0 s, turn');
  expect(await text('cursor-height')).toBe('818 ft'); // 1000 ft less 10 of 55 seconds' share
  expect(await text('cursor-bank')).toBe('45° right');
  expect(await page.getByRole('slider').getAttribute('aria-valuetext')).toContain('stall speed 76');
});

test('the pointer moves the same cursor: the time under it follows from its place', async () => {
  const box = await page.locator('time-charts .slider').boundingBox();
  if (!box) throw new Error('no slider');
  await page.mouse.move(box.x + box.width / 2, box.y + 100);
  expect(await cursor()).toBeCloseTo((55 + 119) / 2, 0); // middle of the window, 5 s before the loss to 4 s after contact
  await page.mouse.move(box.x + box.width / 4, box.y + 100);
  expect(await cursor()).toBeCloseTo(55 + (119 - 55) / 4, 0);
});

test('the plan marks the moment of the cursor on the track, and a criterion leads to its own', async () => {
  const at = () => page.locator('plan-view circle.moment').evaluate((circle) => Number(circle.getAttribute('cx')));
  await page.getByRole('slider').focus();
  await page.keyboard.press('Home'); // 55 s, 7,755 ft along
  const early = await at();
  await page.getByTestId('criterion-delay').getByRole('button').click(); // its moment: 64 s, 9,000 ft along
  expect(await cursor()).toBe(64);
  expect(await at()).toBeGreaterThan(early);
  await page.getByTestId('ledger-turn').getByRole('button').click();
  expect(await cursor()).toBe(66);
});

test('the tables hold the same figures as the pictures', async () => {
  await page.locator('time-charts summary').click();
  const row = page.locator('time-charts tbody tr', { hasText: 'first-action' });
  expect(await said(row)).toMatch(/4\.0.*927.*92.*64/);
  await page.locator('plan-view summary').click();
  const lost = page.locator('plan-view tbody tr', { hasText: 'power-lost' });
  expect(await said(lost)).toMatch(/1,000 ft.*8,460 ft.*on it/);
});

test('the ledger names a contact only where there was one', async () => {
  const table = page.locator('height-ledger');
  const last = table.locator('tr.last th');
  expect(await said(last)).toBe('Height at contact');
  await table.evaluate((element) => Object.assign(element, { end: 'air' }));
  expect(await said(last)).toBe('Height at the end');
  await table.evaluate((element) => Object.assign(element, { end: 'contact' }));
});

test('a recording without samples draws no axes and says so, and one with samples is drawn again', async () => {
  const charts = page.locator('time-charts');
  await charts.evaluate((element) => {
    const it = element as unknown as { trace: Record<string, unknown[]>; kept: unknown };
    it.kept = it.trace;
    it.trace = Object.fromEntries(Object.keys(it.trace).map((column) => [column, []]));
  });
  await charts.getByText('No samples in this recording').waitFor();
  expect(await charts.locator('canvas').count()).toBe(0);
  expect(await charts.getByRole('slider').count()).toBe(0);
  await charts.evaluate((element) => {
    const it = element as unknown as { trace: unknown; kept: unknown };
    it.trace = it.kept;
  });
  await charts.locator('canvas').last().waitFor();
  expect(await charts.locator('canvas').count()).toBe(4);
});

test('nothing went wrong on the page', () => {
  expect(faults).toEqual([]);
});

test('what each deviation cost stands in rows that add up, with bars to one scale', async () => {
  const costs = page.locator('deviation-costs');
  const rows = await costs.locator('tbody tr').allInnerTexts();
  expect(rows.map((row) => row.replace(/\s+/g, ' ').trim())).toEqual([
    'Acting after 6.0 s, where 3 s were asked +120 ft',
    'Turning with 50° of bank, where 45° were asked −20 ft',
    'Together they cost other than one by one +50 ft',
    'All of it +150 ft',
  ]);
  // From −20 to +150 ft is the whole width: 120 of 170 ft begin at 20 of 170.
  const [piece, way] = await Promise.all(['.piece', '.way'].map((name) => costs.locator(name).first().boundingBox()));
  expect((piece?.width ?? 0) / (way?.width ?? 1)).toBeCloseTo(120 / 170, 2);
  expect(((piece?.x ?? 0) - (way?.x ?? 0)) / (way?.width ?? 1)).toBeCloseTo(20 / 170, 2);
});
