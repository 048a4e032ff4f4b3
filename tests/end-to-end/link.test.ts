// From unknown datagrams to a flown attempt in a real Chromium: listen, find, compare, test, save, arm, fail, record.

import { createSocket } from 'node:dgram';
import { readdirSync, readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { LinkProfile, readRecording } from '@stillprop/contracts';
import { startDebrief } from '@stillprop/debrief';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPage, seriousAxeFindings, startBrowser, textOf } from '../support/browser.js';
import { inTemporaryFolder, ROOT, stillprop, until, withStillprop } from '../support/command.js';
import { freePort } from '../support/parts.js';
import { COLUMNS, unknownSimulator } from '../support/unknownSimulator.js';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

async function listen(page: Page, port: number) {
  await page.getByTestId('listen-port').fill(String(port));
  await page.getByTestId('listen').click();
  await page.getByTestId('stop-listening').waitFor();
}

test('an unknown stream is taught on the page and then flown, failed and recorded', { timeout: 180_000 }, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const port = await freePort();
      const { page, errors } = await openPage(browser, `${url}/link`);
      await page.getByTestId('listen').waitFor();
      expect(await textOf(page, 'hearing')).toBe('Not listening.');
      expect(await seriousAxeFindings(page)).toEqual([]);

      await listen(page, port);
      await page.getByText('Nothing came yet').first().waitFor();
      expect(await seriousAxeFindings(page)).toEqual([]);

      const simulator = await unknownSimulator(port, 4);
      try {
        await page.getByTestId('slot-9').waitFor();
        expect(await page.getByText('10 columns between semicolons, with a decimal comma').count()).toBe(1);

        // The bank is found by banking; the other slots by hand.
        await page.getByText('Ready: choose one.').waitFor();
        await page.getByTestId('ask-bank-left').click();
        await page.getByText('Bank left and hold.').waitFor();
        simulator.do('bank-left');
        await page.getByTestId(`offer-${COLUMNS.bankDeg}`).waitFor();
        await until('the bank held', 10_000, () => (simulator.sample().bankDeg === -20 ? true : undefined));
        await page.getByTestId(`offer-${COLUMNS.bankDeg}`).click();
        for (const [channel, slot] of Object.entries(COLUMNS)) {
          if (channel !== 'bankDeg') await page.getByTestId(`assign-${slot}`).selectOption(channel);
        }
        expect(await page.getByTestId('unit-bankDeg').inputValue()).toBe('rad');
        expect(await page.getByTestId('flip-bankDeg').isChecked()).toBe(false);

        // What the cockpit shows names the unit. Standing, speeds are nothing: those are set by hand.
        const { altitudeFt, headingDeg, latitudeDeg, longitudeDeg } = simulator.sample();
        for (const [channel, shown, unit] of [
          ['altitudeFt', altitudeFt, 'm'],
          ['headingDeg', headingDeg, 'rad'],
          ['latitudeDeg', latitudeDeg, 'rad'],
          ['longitudeDeg', longitudeDeg, 'rad'],
        ] as const) {
          await page.getByTestId(`cockpit-${channel}`).fill(shown.toFixed(2));
          await page.getByTestId(`fit-${channel}-${unit}`).click();
        }
        await page.getByTestId('unit-indicatedAirspeedKt').selectOption('m/s');
        await page.getByTestId('unit-verticalSpeedFpm').selectOption('m/s');
        await page.getByTestId('unit-pitchDeg').selectOption('rad');
        expect(Number((await textOf(page, 'now-bankDeg')).replace('−', '-'))).toBeCloseTo(-20, 0);
        expect(Number(await textOf(page, 'now-altitudeFt'))).toBeCloseTo(altitudeFt, 0);

        await page.getByTestId('command-port').fill(String(simulator.commandPort));
        await page.getByTestId('command-fail').fill('ENGINE OFF');
        await page.getByTestId('command-restore').fill('ENGINE ON');
        await page.getByTestId('try-fail').click();
        await until('the command tested', 10_000, () => simulator.commands.at(-1) === 'ENGINE OFF' || undefined);
        await page.getByTestId('try-restore').click();
        await until('the power given back', 10_000, () => simulator.commands.at(-1) === 'ENGINE ON' || undefined);
        simulator.powerFellAtFt = null;

        await page.getByText('All that is needed is there').waitFor();
        expect(await textOf(page, 'lost')).toContain('Load in the turn is not measured.');
        expect(await seriousAxeFindings(page)).toEqual([]);
        await page.getByTestId('link-name').fill('Workshop rig');
        await page.getByTestId('save-link').click();
        await page.getByText('It can be chosen on Fly.').waitFor();
        const saved = LinkProfile.parse(JSON.parse(readFileSync(join(dir, 'links/workshop-rig.json'), 'utf8')));
        expect(saved.transport).toMatchObject({ kind: 'udp', listenPort: port, allowedSenders: ['127.0.0.1'] });

        // Chosen on Fly without a new start, and flown.
        simulator.do('stand');
        await page.getByRole('link', { name: 'Fly', exact: true }).click();
        await page.getByTestId('scenario-first-turn-back').check();
        await page.getByTestId('link').selectOption('workshop-rig');
        await page.getByTestId('student').fill('Robin Alder');
        await page.getByTestId('arm').click();
        await page.locator('[data-testid="exercise-text"][data-state="armed"]').waitFor();
        simulator.do('take-off');
        await page.waitForURL(/\/debrief\/[0-9a-f-]{36}$/, { timeout: 120_000 });
        const attemptId = page.url().split('/').at(-1) as string;
        const read = readRecording(readFileSync(join(dir, 'debrief/recordings', `${attemptId}.ndjson`), 'utf8'));
        if (!read.ok) throw new Error(read.problem.message);
        const { header, events } = read.recording;
        expect(header).toMatchObject({ link: 'workshop-rig', student: 'Robin Alder' });
        expect(events.map(({ code }) => code)).toEqual(expect.arrayContaining(['armed', 'fail-commanded']));
        // Never before its height; how long after depends on how busy this machine is.
        expect(simulator.powerFellAtFt).toBeGreaterThan((header.drawn.heightFt ?? 0) - 100);
        expect(errors).toEqual([]);
      } finally {
        simulator.close();
      }
    }),
  );
});

test('a saved link is loaded to be changed, and a port in use is refused in words, in the dark on a small screen', {
  timeout: 120_000,
}, async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const { page } = await openPage(browser, `${url}/link`, {
        viewport: { width: 390, height: 844 },
        colorScheme: 'dark',
      });
      await page.getByTestId('load').selectOption('stand-in-text');
      await page.getByText('is here to be changed').waitFor();
      expect(await page.getByTestId('unit-bankDeg').inputValue()).toBe('deg');
      expect(await page.getByTestId('command-restore').inputValue()).toBe('RESTORE');
      // What is downloaded is the link as it is on the page: here, that which was loaded.
      const [file] = await Promise.all([page.waitForEvent('download'), page.getByTestId('download-link').click()]);
      expect(file.suggestedFilename()).toBe('stand-in-text.json');
      const downloaded = LinkProfile.parse(JSON.parse(readFileSync(await file.path(), 'utf8')));
      const shipped = LinkProfile.parse(
        JSON.parse(readFileSync(join(ROOT, 'fixtures/links/stand-in-text.json'), 'utf8')),
      );
      expect(downloaded).toMatchObject({ decoder: shipped.decoder, channels: shipped.channels });
      const taken = createSocket('udp4');
      await new Promise<void>((resolve) => taken.bind(0, '127.0.0.1', resolve));
      await page.getByTestId('listen-port').fill(String(taken.address().port));
      await page.getByTestId('listen').click();
      await page.getByText('is used by another program').waitFor();
      await new Promise<void>((resolve) => taken.close(resolve));
      const port = await freePort();
      await listen(page, port);
      const simulator = await unknownSimulator(port, 1);
      await page.getByText('Receiving.').waitFor();
      simulator.close();
      await page.getByText('It has gone quiet').waitFor();
      // What is pressed goes away, and the focus does not go with it.
      await page.getByTestId('stop-listening').focus();
      await page.keyboard.press('Enter');
      await page.getByText('Not listening.').waitFor();
      await expect.poll(() => page.getByTestId('listen').evaluate((button) => button.matches(':focus'))).toBe(true);
      await page.getByTestId('listen-port').fill('seventy');
      await page.getByTestId('listen').click();
      await page.getByText('The port must be a whole number from 1 to 65535, got "seventy".').waitFor();
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      expect(await seriousAxeFindings(page)).toEqual([]);
    }),
  );
});

test('a simulator that connects by TCP is heard, and a command is tried over its connection', async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const port = await freePort();
      const { page } = await openPage(browser, `${url}/link`);
      await page.getByTestId('listen-kind').selectOption('tcpServer');
      await listen(page, port);
      await page.getByText(`Listening on port ${port}. Nothing came yet`).waitFor();
      const back: string[] = [];
      const socket = connect(port, '127.0.0.1').on('data', (bytes) => back.push(String(bytes)));
      const sending = setInterval(() => socket.write('1.5,2.5,3.5\r\n'), 50);
      try {
        await page.getByTestId('slot-2').waitFor();
        expect(await page.getByText('3 columns between commas').count()).toBe(1);
        await page.getByTestId('assign-0').selectOption('altitudeFt');
        await page.getByTestId('command-fail').fill('ENGINE OFF');
        await page.getByTestId('try-fail').click();
        await page.getByText('Sent over the connection on which it speaks.').waitFor();
        await until('the command', 5000, () => (back.includes('ENGINE OFF') ? true : undefined));
      } finally {
        clearInterval(sending);
        socket.destroy();
      }
      // Nothing listens on a port that was only just free: it says so, and goes on trying.
      await page.getByTestId('listen-kind').selectOption('tcpClient');
      await page.getByTestId('listen-address').fill(`127.0.0.1:${await freePort()}`);
      await page.getByTestId('listen').click();
      await page.getByText('nothing listens there: start your simulator').first().waitFor();
    }),
  );
});

test('without a station, and without the server, the page says so and what to do', { timeout: 60_000 }, async () => {
  await inTemporaryFolder(async (dir) => {
    const server = await startDebrief({
      port: 0,
      dataDir: dir,
      catalogueDirs: [join(ROOT, 'fixtures')],
      log: () => undefined,
    });
    let isClosed = false;
    try {
      const { page } = await openPage(browser, `${server.url}/link`);
      await page.getByTestId('link-no-station').waitFor();
      expect(await textOf(page, 'link-no-station')).toContain('npx stillprop start');
      expect(await seriousAxeFindings(page)).toEqual([]);
      await server.close();
      isClosed = true;
      await page.getByTestId('link-unreachable').waitFor();
      expect(await seriousAxeFindings(page)).toEqual([]);
    } finally {
      if (!isClosed) await server.close();
    }
  });
});

test('the command records, replays, listens and checks', { timeout: 120_000 }, async () => {
  await inTemporaryFolder(async (dir) => {
    const port = await freePort();
    const simulator = await unknownSimulator(port, 1);
    const file = join(dir, 'capture.ndjson');
    const recorded = await stillprop(['link', 'record', '--port', String(port), '--out', file, '--for', '2']);
    simulator.close();
    expect(recorded.code).toBe(0);
    expect(readFileSync(file, 'utf8').split('\n').length).toBeGreaterThan(10);
    const again = await stillprop(['link', 'record', '--port', String(port), '--out', file]);
    expect(again).toMatchObject({
      code: 2,
      err: `stillprop: --out ${file} is there already: name a file that is not\n`,
    });

    const listening = stillprop(['link', 'listen', '--port', String(port), '--for', '10', '--json']);
    let heard = { received: 0 };
    while (
      (await Promise.race([
        listening.then(() => 'done'),
        stillprop(['link', 'replay', file, '--to', `127.0.0.1:${port}`, '--speed', '4']),
      ])) !== 'done'
    );
    heard = JSON.parse((await listening).out);
    expect(heard).toMatchObject({ decoder: { kind: 'delimited', separator: ';', decimal: ',' }, made: null });
    expect(heard.received).toBeGreaterThan(10);

    const profile = readdirSync(new URL('../../fixtures/links/', import.meta.url)).find(
      (name) => name === 'standard-gdl90.json',
    );
    const path = new URL(`../../fixtures/links/${profile}`, import.meta.url).pathname;
    const checked = await stillprop(['link', 'check', path, '--capture', file, '--json']);
    expect(checked.code).toBe(0);
    const report = JSON.parse(checked.out);
    expect(report.missing.map(({ channel }: { channel: string }) => channel)).toContain('engineRpm');
    expect(report.capture).toMatchObject({ good: 0, samples: 0 });

    const bad = await stillprop(['link', 'check', file]);
    expect(bad.code).toBe(2);
    expect(bad.err.trim().split('\n')).toHaveLength(1);
    expect(await stillprop(['link', 'replay', file, '--to', 'nowhere'])).toMatchObject({
      code: 2,
      err: 'stillprop: --to must be HOST:PORT such as 127.0.0.1:47200, got "nowhere"\n',
    });
  });
});
