// Notes and deletion in a real Chromium: a note leads to its moment and is never markup; what is deleted comes back whole.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, withStillprop } from '../support/command.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { sendRecording } from '../support/sendRecording.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** Test hook of the element that has the keyboard, inside shadow roots too. */
const focused = (page: Page) =>
  page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return at?.getAttribute('data-testid');
  });

const MARKUP = '<img src=x onerror="window.owned = 1"><script>window.owned = 2</script> & "so"';

test('a note is written, kept, changed; its attempt is deleted, and comes back with it', {
  timeout: 60_000,
}, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const text = flownRecordingText();
      const attemptId = await sendRecording(url, text);
      const { page, errors } = await openPage(browser, `${url}/debrief/${attemptId}`);
      const hook = (id: string) => page.getByTestId(id);
      const moment = () => textOf(page, 'cursor-time');
      await hook('overall').waitFor();

      // A note at the moment chosen with the finding, by keyboard alone.
      await page.getByRole('slider', { name: 'Moment in the flight' }).focus();
      await page.keyboard.press('PageUp');
      const chosen = await moment();
      const offered = await textOf(page, 'add-note');
      expect(offered).toBe(`Add a note at +${/[\d.]+ s/.exec(chosen)?.[0]}`);
      await hook('add-note').focus();
      await page.keyboard.press('Enter');
      await hook('note-save').click();
      expect(await textOf(page, 'note-problem')).toBe('A note needs a text.');
      await page.keyboard.type(MARKUP);
      await hook('note-author').selectOption('instructor');
      await hook('note-name').fill('<b>Mo Teal</b>');
      expect(await seriousAxeFindings(page)).toEqual([]);
      await hook('note-save').click();
      await hook('note').waitFor();
      await expect.poll(() => focused(page)).toBe('add-note');

      // One to the whole attempt, which then stands first.
      await hook('add-note').click();
      await hook('note-text').fill('Flown better than last week.\nNow the flare.');
      await hook('note-whole').check();
      await hook('note-save').click();
      await expect.poll(() => hook('note').count()).toBe(2);

      await page.reload();
      await hook('note').first().waitFor();
      expect(await hook('note-words').allTextContents()).toEqual([
        'Flown better than last week.\nNow the flare.',
        MARKUP,
      ]);
      expect(await hook('note').last().textContent()).toContain('<b>Mo Teal</b>, instructor');
      expect(await hook('note').locator('img, script, b').count()).toBe(0);
      expect(await page.evaluate(() => (window as { owned?: number }).owned)).toBeUndefined();

      // The note leads to its moment, however far the cursor was moved.
      expect(await moment()).not.toBe(chosen);
      await hook('note-moment').click();
      await expect.poll(moment).toBe(chosen);

      await hook('note-edit').first().click();
      await hook('note-text').fill('Now the flare.');
      await hook('note-save').click();
      await expect.poll(() => hook('note-words').first().textContent()).toBe('Now the flare.');
      await hook('note-remove').last().click();
      await expect.poll(() => hook('note').count()).toBe(1);
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(() => hook('note').count()).toBe(2);
      expect(await seriousAxeFindings(page)).toEqual([]);

      // Asked first; Escape and Cancel leave all as it is, and the keyboard where it was.
      const overall = await textOf(page, 'overall');
      await hook('delete').focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => focused(page)).toBe('delete-cancel');
      expect(await textOf(page, 'delete-dialog')).toMatch(/Its recording, its score and its notes leave every list/);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await page.keyboard.press('Escape');
      await expect.poll(() => focused(page)).toBe('delete');
      await hook('delete').click();
      await hook('delete-cancel').click();
      await expect.poll(() => hook('delete-dialog').isVisible()).toBe(false);
      expect(readFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'utf8')).toBe(text);

      await hook('delete').click();
      await hook('delete-confirm').click();
      await hook('deleted-notice').waitFor();
      expect(await textOf(page, 'deleted-notice')).toBe('Attempt deleted. Undo');
      await hook('no-attempts').waitFor();
      expect(readFileSync(join(dir, 'debrief/deleted', `${attemptId}.ndjson`), 'utf8')).toBe(text);
      expect(await seriousAxeFindings(page)).toEqual([]);
      await hook('undo-delete').click();
      await hook('attempt-row').waitFor();
      expect(await hook('deleted').count()).toBe(0);
      expect(readFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'utf8')).toBe(text);
      await page.getByRole('link', { name: 'Open it' }).click();
      await hook('note').first().waitFor();
      expect([await textOf(page, 'overall'), await hook('note').count()]).toEqual([overall, 2]);

      // Later, when the list was left, it is restored from the deleted ones.
      await hook('delete').click();
      await hook('delete-confirm').click();
      await hook('deleted-notice').waitFor();
      await page.reload();
      expect(await textOf(page, 'deleted-count')).toBe('Deleted (1)');
      expect(await hook('deleted-notice').count()).toBe(0);
      await hook('deleted-count').click();
      expect(await seriousAxeFindings(page)).toEqual([]);
      await hook('restore').click();
      await hook('attempt-row').waitFor();
      expect(await textOf(page, 'attempt-row')).toContain(overall);
      expect(errors).toEqual([]);

      // One whose recording is damaged cannot be shown, but it can be deleted.
      writeFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'x\n');
      await page.goto(`${url}/debrief/${attemptId}`);
      await hook('failure').waitFor();
      await hook('delete').click();
      await hook('delete-confirm').click();
      await hook('no-attempts').waitFor();
      expect(readFileSync(join(dir, 'debrief/deleted', `${attemptId}.ndjson`), 'utf8')).toBe('x\n');
    }),
  );
});
