// The commands for tokens: shown once and alone on stdout, listed without them, taken back, and refused in one line.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { stationTokens } from '@stillprop/debrief';
import { expect, onTestFinished, test, vi } from 'vitest';
import { stationList, stationRevoke, stationToken } from './station.js';

function setUp() {
  const data = mkdtempSync(join(tmpdir(), 'stillprop-station-'));
  const out: string[] = [];
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => out.push(String(text)) > 0);
  const stderr = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  onTestFinished(() => {
    stdout.mockRestore();
    stderr.mockRestore();
    rmSync(data, { recursive: true });
  });
  return { data, out, kept: stationTokens(join(data, 'debrief')) };
}

test('a token is printed alone, known to the server, listed by its station only, and revoked', async () => {
  const { data, out, kept } = setUp();
  await stationToken('desk one', { data });
  const token = (out.at(-1) ?? '').trim();
  expect(out).toEqual([`${token}\n`]);
  expect(await kept.stationOf(token)).toBe('desk one');
  await stationList({ data, json: true });
  expect(JSON.parse(out.at(-1) ?? '')).toEqual([{ station: 'desk one', issuedAt: expect.any(String) }]);
  await stationRevoke('desk one', { data });
  expect(await kept.stationOf(token)).toBeNull();
  await stationList({ data });
  expect(out.at(-1)).toBe('No station has a token.\n');
});

test('a station that has none cannot be revoked, and one without a name gets none', async () => {
  const { data } = setUp();
  await expect(stationRevoke('desk two', { data })).rejects.toThrow('station "desk two" has no token');
  await expect(stationToken('', { data })).rejects.toThrow('NAME must have 1 to 200 characters, got 0');
});
