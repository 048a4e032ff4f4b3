// A track log chosen on the page becomes an attempt whose figures are those of the flight it was cut from.
import { readRecording } from '@stillprop/contracts';
import { scoreRecording } from '@stillprop/scoring';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { numberIn, openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

test('a GPX log is chosen, refused with a wrong moment, and scored with the right one', {
  timeout: 60_000,
}, async () => {
  const read = readRecording(flownRecordingText({ rateHz: 5 }));
  if (!read.ok) throw new Error(read.problem.message);
  const truth = scoreRecording(read.recording);
  const firstS = read.recording.samples[0]?.timeS ?? 0;
  const points = read.recording.samples.map(({ timeS, latitudeDeg, longitudeDeg, altitudeFt }) => {
    const time = new Date(Date.UTC(2026, 0, 31, 9, 30) + (timeS - firstS) * 1000).toISOString();
    return `<trkpt lat="${latitudeDeg}" lon="${longitudeDeg}"><ele>${altitudeFt * 0.3048}</ele><time>${time}</time></trkpt>`;
  });
  const buffer = Buffer.from(`<gpx version="1.1"><trk><trkseg>${points.join('')}</trkseg></trk></gpx>`);
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const { page } = await openPage(browser, `${url}/debrief`);
      await page.getByTestId('import-open').click();
      await page.getByTestId('import-file').setInputFiles({ name: 'evening.gpx', mimeType: 'text/xml', buffer });
      await page.getByTestId('import-scenario').selectOption('first-turn-back');
      await page.getByTestId('import-student').fill('Ines Vale');
      await page.getByTestId('import-failed-at').fill('after lunch');
      await page.getByTestId('import').click();
      expect(await textOf(page, 'import-problem')).toContain('failedAt must be seconds');
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.getByTestId('import-failed-at').fill(String((truth.failure?.atS ?? 0) - firstS));
      await page.getByTestId('import').click();
      await page.waitForURL(/\/debrief\/[0-9a-f-]{36}$/);
      await page.getByTestId('imported').waitFor();
      expect(await textOf(page, 'criterion-delay-measured')).toBe('not measured');
      expect(await textOf(page, 'criterion-airspeed-measured')).toBe('not measured');
      const touchdownFt = Math.abs(truth.criteria.touchdown.measured ?? Number.NaN);
      expect(Math.abs(numberIn(await textOf(page, 'criterion-touchdown-measured')) - touchdownFt)).toBeLessThan(300);
      expect(await seriousAxeFindings(page)).toEqual([]);
      expect(await textOf(page, 'cursor-airspeed')).toBe('not measured');
      await page.locator('time-charts').getByText('from the track', { exact: true }).first().waitFor();
      await page.goto(`${url}/debrief`);
      expect(await textOf(page, 'attempt-row')).toContain('Ines Vale');
    }),
  );
});
