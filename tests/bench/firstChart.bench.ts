// From opening a debrief to its first charts on screen, against a bare page that draws the same series with uPlot alone.

import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import type { Browser } from 'playwright-core';
import type { Ratio } from '../../.tools/sideBySide.js';
import { startBrowser } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

const ROUNDS = 9;
const UPLOT = readFileSync(createRequire(import.meta.url).resolve('uplot/dist/uPlot.iife.min.js'), 'utf8');
const UPLOT_CSS = readFileSync(createRequire(import.meta.url).resolve('uplot/dist/uPlot.min.css'), 'utf8');

export default async function firstChart(): Promise<Ratio[]> {
  const ratios: number[] = [];
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const attemptId = await sendRecording(url, flownRecordingText({ rateHz: 20 }));
      const trace = await (await fetch(`${url}/api/attempts/${attemptId}/trace?maxPoints=60000`)).text();
      const bare = createServer((request, response) => {
        const [type, body] = {
          '/uplot.js': ['text/javascript', UPLOT],
          '/uplot.css': ['text/css', UPLOT_CSS],
          '/trace': ['application/json', trace],
        }[request.url ?? ''] ?? ['text/html', BARE_PAGE];
        response.setHeader('content-type', type as string).end(body);
      }).listen(0, '127.0.0.1');
      await new Promise((resolve) => bare.once('listening', resolve));
      const bareUrl = `http://127.0.0.1:${(bare.address() as AddressInfo).port}/`;
      const browser = await startBrowser();
      try {
        await opened(browser, `${url}/debrief/${attemptId}`); // the first start of the browser is nobody's
        await opened(browser, bareUrl);
        for (let round = 0; round < ROUNDS; round++) {
          const ours = await opened(browser, `${url}/debrief/${attemptId}`);
          ratios.push(ours / (await opened(browser, bareUrl)));
        }
      } finally {
        await browser.close();
        bare.close();
      }
    }),
  );
  const ratio = ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
  return [
    {
      name: 'first charts of a debrief / the same series on a bare page, nothing cached',
      ratio,
      goal: 2,
      better: 'lower',
    },
  ];
}

/** From the start of the navigation to the frame after the fourth canvas has been painted (ms). */
async function opened(browser: Browser, address: string): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  try {
    await page.addInitScript(WATCH);
    await page.goto(address, { waitUntil: 'commit' });
    return (await page.evaluate('window.chartsAtMs')) as number;
  } finally {
    await context.close();
  }
}

/** Looks for four canvases, in shadow roots too, once a frame. As text: what compiles this file would change it. */
const WATCH = `
const found = (root) => [...root.querySelectorAll('*')].reduce(
  (count, element) => count + (element.localName === 'canvas') + (element.shadowRoot ? found(element.shadowRoot) : 0), 0);
window.chartsAtMs = new Promise((tell) => requestAnimationFrame(function look() {
  if (found(document) < 4) return requestAnimationFrame(look);
  requestAnimationFrame(() => tell(performance.now()));
}));`;

const BARE_PAGE = `<!doctype html><meta charset="utf-8"><title>Bare</title><link rel="stylesheet" href="/uplot.css">
<body><script src="/uplot.js"></script><script>
fetch('/trace').then((answer) => answer.json()).then((trace) => {
  for (const columns of [['heightFt'], ['indicatedAirspeedKt', 'stallSpeedKt'], ['bankDeg'], ['verticalSpeedFpm']]) {
    const options = { width: 600, height: 100, scales: { x: { time: false } },
      series: [{}, ...columns.map(() => ({ stroke: '#111' }))] };
    new uPlot(options, [trace.timeS, ...columns.map((column) => trace[column])], document.body);
  }
});
</script>`;
