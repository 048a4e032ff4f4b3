// The server goes while a page is on show, and comes back: the page says so, and goes on by itself.
import { expect, test } from 'vitest';
import { openPage, startBrowser } from '../support/browser.js';
import { ATTEMPTS, serverWithAttempts } from '../support/pageStates.js';

test('list and comparison say that the server is gone, and come back without a reload', async () => {
  const [browser, server] = await Promise.all([startBrowser(), serverWithAttempts()]);
  try {
    const { page } = await openPage(browser, `${server.url}/debrief`);
    await page.getByTestId('attempt-row').first().waitFor();
    const { page: compare } = await openPage(browser, `${server.url}/compare?student=Ada+Finch`);
    await compare.getByTestId('student-attempts').waitFor();
    await server.stop();
    await compare.evaluate((path) => {
      history.pushState(null, '', path);
      dispatchEvent(new PopStateEvent('popstate'));
    }, '/compare');
    await compare.getByText('The debrief server cannot be reached.').waitFor();
    await page.evaluate((path) => {
      history.pushState(null, '', path);
      dispatchEvent(new PopStateEvent('popstate'));
    }, '/debrief?before=x');
    await page.getByText('The debrief server cannot be reached.').waitFor();
    await page.evaluate(() => history.back());
    await page.getByText('The debrief server cannot be reached.').waitFor();
    await compare.evaluate((path) => {
      history.pushState(null, '', path);
      dispatchEvent(new PopStateEvent('popstate'));
    }, `/compare?attempt=${ATTEMPTS.whole}&attempt=${ATTEMPTS.imported}`);
    await compare.getByText('The debrief server cannot be reached.').waitFor();
    await server.start();
    await page.getByTestId('attempt-row').first().waitFor();
    await compare.getByTestId('difference').waitFor();
  } finally {
    await browser.close();
    await server.close();
  }
});

test('while another attempt is read, the one before is not on show', async () => {
  const [browser, server] = await Promise.all([startBrowser(), serverWithAttempts()]);
  try {
    const { page } = await openPage(browser, `${server.url}/debrief/${ATTEMPTS.whole}`);
    await page.getByTestId('overall').waitFor();
    await page.route(/\/api\/attempts\/[^?]+/, () => undefined);
    await page.evaluate((path) => {
      history.pushState(null, '', path);
      dispatchEvent(new PopStateEvent('popstate'));
    }, `/debrief/${ATTEMPTS.imported}`);
    await page.getByText('Reading the attempt …').waitFor();
    expect(await page.getByTestId('overall').count()).toBe(0);
  } finally {
    await browser.close();
    await server.close();
  }
});
