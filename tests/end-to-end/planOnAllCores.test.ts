// `stillprop plan` counts its spread on threads: the same figures as one core, progress on stderr, an end at once on Ctrl+C.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { PlanRequest } from '@stillprop/contracts';
import { spread } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { finished, ROOT, stillprop } from '../support/command.js';

const BIN = join(ROOT, 'apps/cli/bin/stillprop.mjs');
const path = join(ROOT, 'fixtures/requests/reference-1000ft.json');
const reference = () => JSON.parse(readFileSync(path, 'utf8'));
/** Takes longer than what is counted before threads start. */
const spreadHeightsFt = [600, 650, 700, 750];

test('the spread has the bits of the one counted on a single core, and says how far it is', async () => {
  const words = ['plan', '-', '--json', '--draws', '1500'];
  const { code, out, err } = await stillprop(
    words,
    JSON.stringify({ ...reference(), plan: { seed: 3, spreadHeightsFt } }),
  );
  expect(code).toBe(0);
  const request = PlanRequest.parse(reference());
  expect(JSON.parse(out).spread).toEqual(spread(request, { draws: 1500, seed: 3, heightsFt: spreadHeightsFt }));
  expect(err).toMatch(/^\d+ %: spread …$/m);
});

test('Ctrl+C while the threads count ends the command, with nothing on stdout', async () => {
  const child = spawn(process.execPath, [BIN, 'plan', path, '--draws', '100000'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const gone = finished(child);
  await new Promise<void>((resolve) => child.stderr.on('data', (chunk) => /spread/.test(String(chunk)) && resolve()));
  child.kill('SIGINT');
  const { code, out } = await gone;
  expect([code, child.signalCode, out]).toEqual([null, 'SIGINT', '']);
});

test('a cancel in the middle of the counting ends the threads and throws its reason', async () => {
  const script = `
    const { spreadOnAllCores } = await import(${JSON.stringify(pathToFileURL(join(ROOT, 'apps/cli/dist/spreadOnAllCores.js')).href)});
    const cancel = new AbortController();
    const request = ${JSON.stringify(PlanRequest.parse(reference()))};
    const onProgress = (share) => share > 0 && cancel.abort(new Error('enough'));
    const options = { draws: 1_000_000, threads: 3, aloneMs: 0, signal: cancel.signal, onProgress };
    await spreadOnAllCores(request, options).then(() => console.log('counted'), (error) => console.log(error.message));`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', script], { stdio: ['ignore', 'pipe', 'pipe'] });
  expect(await finished(child)).toEqual({ code: 0, out: 'enough\n', err: '' });
});

test.each(['100001', '-1', '1.5', 'many', ''])('--draws %s is refused in one line', async (draws) => {
  const { code, out, err } = await stillprop(['plan', path, `--draws=${draws}`]);
  expect([code, out]).toEqual([2, '']);
  expect(err).toBe(`stillprop: --draws must be a whole number from 0 to 100000, got "${draws}"\n`);
});
