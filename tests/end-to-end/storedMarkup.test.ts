// Names that are markup stand on every page as they were written, and nothing in them runs.
import { expect, test } from 'vitest';
import { openPage, startBrowser } from '../support/browser.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { ATTEMPTS, changed, serverWithAttempts } from '../support/pageStates.js';
import { sendRecording } from '../support/sendRecording.js';

const IDS = ['7f1f2f57-2c3d-4a55-9c11-0000000000a1', '7f1f2f57-2c3d-4a55-9c11-0000000000a2'] as const;
const markup = (where: string) =>
  `${where}<img src=x onerror="window.owned='${where}'"><script>window.owned='${where}'</script>`;

test('markup in the names of a recording is text on the list, the debrief and every comparison', async () => {
  const [browser, server] = await Promise.all([startBrowser(), serverWithAttempts()]);
  try {
    const text = flownRecordingText({ rateHz: 5 });
    const header = JSON.parse(text.slice(0, text.indexOf('\n')));
    const named = {
      student: markup('student'),
      station: markup('station'),
      link: markup('link'),
      scenario: { ...header.scenario, id: 'marked', name: markup('scenario') },
      aircraft: { ...header.aircraft, name: markup('aircraft') },
      runway: { ...header.runway, airfieldName: markup('airfield') },
      rubric: { ...header.rubric, name: markup('rubric') },
    };
    for (const id of IDS) await sendRecording(server.url, changed(text, id, named));
    const student = encodeURIComponent(named.student);
    const chosen = `scenario=marked&rubric=${header.rubric.id}&revision=${header.rubric.revision}`;
    const pages: [string, string, readonly string[]][] = [
      ['/debrief', 'attempt-row', ['student', 'scenario']],
      [`/debrief/${IDS[0]}`, 'overall', ['student', 'station', 'link', 'aircraft', 'rubric']],
      [`/compare?${chosen}`, 'students', ['student', 'scenario']],
      [`/compare?${chosen}&student=${student}`, 'student-attempts', ['student']],
      [`/compare?attempt=${IDS[0]}&attempt=${IDS[1]}`, 'difference', ['student']],
      [`/compare?attempt=${IDS[0]}&attempt=${IDS[1]}&attempt=${ATTEMPTS.whole}`, 'together', ['student']],
    ];
    for (const [path, shows, names] of pages) {
      const { page } = await openPage(browser, server.url + path);
      await page.getByTestId(shows).first().waitFor();
      for (const name of names)
        await page.getByText(markup(name), { exact: false }).first().waitFor({ state: 'attached' });
      expect(await page.evaluate(() => (window as { owned?: string }).owned), path).toBeUndefined();
      await page.context().close();
    }
  } finally {
    await browser.close();
    await server.close();
  }
});
