// A track log becomes a recording that can be read and scored, goes to a server with its hash, and bad input leaves nothing.
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromRunwayFrame, isPlaced, readRecording } from '@stillprop/contracts';
import { debriefText, scoreRecording } from '@stillprop/scoring';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { scenarioOnShelf } from '../shelf.js';
import { importTrack } from './importTrack.js';

let dir = '';
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'stillprop-import-'));
});
afterEach(() => rmSync(dir, { recursive: true }));

/** GPX of a straight climb to 1,000 ft at 150 ft/s, and down again to the height it came from. */
function logFile(): string {
  const { runway } = scenarioOnShelf('first-turn-back', dir);
  if (!isPlaced(runway)) throw new Error('needs a runway with a position');
  const points = Array.from({ length: 130 }, (_, s) => {
    const { latitudeDeg, longitudeDeg } = fromRunwayFrame(runway, { alongFt: 150 * Math.max(s - 5, 0), acrossFt: 0 });
    const heightFt = s < 15 ? 0 : s < 65 ? 20 * (s - 15) : Math.max(1000 - 20 * (s - 65), 0);
    const time = new Date(Date.UTC(2026, 0, 31, 9, 30, s)).toISOString();
    const ele = (runway.elevationFt + heightFt) * 0.3048;
    return `<trkpt lat="${latitudeDeg}" lon="${longitudeDeg}"><ele>${ele}</ele><time>${time}</time></trkpt>`;
  });
  const path = join(dir, 'log.gpx');
  writeFileSync(path, `<gpx version="1.1"><trk><trkseg>${points.join('')}</trkseg></trk></gpx>`);
  return path;
}
const options = () => ({ scenario: 'first-turn-back', dataDir: dir });

test('the recording is scored as far as the log tells', async () => {
  const out = join(dir, 'recording.ndjson');
  await importTrack(logFile(), { ...options(), out, failedAt: '2026-01-31T09:31:05Z' });
  const read = readRecording(readFileSync(out, 'utf8'));
  if (!read.ok) throw new Error(read.problem.message);
  const score = scoreRecording(read.recording);
  expect(score.failure?.atS).toBe(65);
  expect(score.failure?.heightFt).toBeCloseTo(1000, 0);
  for (const name of ['delay', 'bank', 'airspeed'] as const) expect(score.criteria[name].score).toBeNull();
  expect(debriefText(score, read.recording.header)).toContain('groundspeed is not airspeed');
});

test('handed over twice it is the same attempt, with the hash of its bytes', async () => {
  const bodies: string[] = [];
  const server = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => {
      body += chunk;
    });
    request.on('end', () => {
      bodies.push(body);
      const sha256 = createHash('sha256').update(body).digest('hex');
      response.statusCode = request.headers['x-content-sha256'] === sha256 ? 201 : 422;
      response.end(JSON.stringify({ sha256 }));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  try {
    const to = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const path = logFile();
    await importTrack(path, { ...options(), to });
    await importTrack(path, { ...options(), to });
    expect(bodies).toHaveLength(2);
    expect(bodies[0]).toBe(bodies[1]);
  } finally {
    server.close();
  }
});

test.each([
  [{ scenario: 'none-such' }, /scenarioId/],
  [{ failedAt: 'soon' }, /--failed-at must be seconds/],
  [{ failedAt: '9999' }, /--failed-at must be from 0 to 129 s/],
])('refuses %j and writes nothing', async (change, message) => {
  const out = join(dir, 'recording.ndjson');
  await expect(importTrack(logFile(), { ...options(), out, ...change })).rejects.toThrow(message);
  expect(existsSync(out)).toBe(false);
});

test('an address that is none is refused', async () => {
  await expect(importTrack(logFile(), { ...options(), to: 'nowhere' })).rejects.toThrow(/--to/);
});
