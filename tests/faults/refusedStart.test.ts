// `stillprop start` with something that cannot work: one line, exit code 2, and nothing left running or written.
import { createSocket } from 'node:dgram';
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { inTemporaryFolder, ROOT, startedWith, stillprop, withStillprop } from '../support/command.js';

const GIVE_UP_MS = 40_000;

// biome-ignore lint/suspicious/noExplicitAny: the profile is broken on purpose, in every way
type Loose = any;

function linkFile(dir: string, change: (profile: Loose) => void): string {
  const profile: Loose = JSON.parse(readFileSync(join(ROOT, 'fixtures/links/stand-in-text.json'), 'utf8'));
  profile.id = 'my-simulator';
  change(profile);
  const path = join(dir, 'my-simulator.json');
  writeFileSync(path, JSON.stringify(profile));
  return path;
}

const start = (...words: string[]) => stillprop(['start', '--port', '0', ...words], '', GIVE_UP_MS);

test.each<[string, (profile: Loose) => void, RegExp]>([
  ['a channel that is needed is missing', (p) => delete p.channels.pitchDeg, /channels\.pitchDeg is missing/],
  ['a bank in feet', (p) => (p.channels.bankDeg.unit = 'ft'), /channels\.bankDeg\.unit must be one of deg, rad/],
  [
    'a name where no columns are named',
    (p) => {
      delete p.decoder.columns;
      p.channels.timeS.slot = 'time';
    },
    /channels\.timeS\.slot must be a column number/,
  ],
  ['a word nobody fills in', (p) => (p.commands.fail = 'KILL {power}'), /commands\.fail may ask for .*got "\{power\}"/],
  [
    'a unit that there is not',
    (p) => (p.channels.bankDeg.unit = 'grad'),
    /channels\.bankDeg\.unit must be a unit name/,
  ],
])('a link with %s is refused before anything is started', async (_, change, sentence) => {
  await inTemporaryFolder(async (dir) => {
    const path = linkFile(dir, change);
    const { code, out, err } = await start('--link', path, '--data', join(dir, 'data'));
    expect(err).toMatch(sentence);
    expect(err).toContain(path);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(out).toBe('');
    expect(code).toBe(2);
    expect(existsSync(join(dir, 'data/debrief'))).toBe(false);
  });
});

test('two links of one id are refused: only one of them could be chosen', async () => {
  await inTemporaryFolder(async (dir) => {
    const path = linkFile(dir, (profile) => (profile.id = 'stand-in-text'));
    const { code, err } = await start('--bench', '--link', path, '--data', join(dir, 'data'));
    expect(err.trim()).toMatch(/^stillprop: .*my-simulator\.json: id "stand-in-text" is that of .* too[^\n]*$/);
    expect(code).toBe(2);
  });
});

test('a second copy on the same data folder is refused, and the first one goes on', async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url }) => {
      const links = readFileSync(join(dir, 'stand-in/stand-in-text.json'), 'utf8');
      const { code, out, err } = await start('--bench', '--data', dir);
      expect(err.trim()).toMatch(/^stillprop: [^\n]*is in use by another Stillprop \(process \d+ on [^\n]*\)[^\n]*$/);
      expect(out).toBe('');
      expect(code).toBe(2);
      expect(readFileSync(join(dir, 'stand-in/stand-in-text.json'), 'utf8')).toBe(links);
      expect((await fetch(`${url}/api/health`)).status).toBe(200);
    }),
  );
});

test('a part that refuses at its start ends the whole start with its reason', async () => {
  await inTemporaryFolder(async (dir) => {
    await withStillprop(join(dir, 'first'), async ({ url }) => {
      const { code, out, err } = await stillprop(
        ['start', '--bench', '--port', new URL(url).port, '--data', join(dir, 'second')],
        '',
        GIVE_UP_MS,
      );
      expect(err.trim()).toMatch(/^stillprop: port \d+ on 127\.0\.0\.1 is in use by another program[^\n]*$/);
      expect(out).toBe('');
      expect(code).toBe(2);
    });
  });
});

test('a bridge that refuses at its start ends the whole start, and nobody speaks of another part', async () => {
  await inTemporaryFolder(async (dir) => {
    // The bridge cannot make its folder of recordings where a file of that name lies.
    const data = join(dir, 'data');
    await withStillprop(data, async () => undefined);
    rmSync(join(data, 'bridge/recordings'), { recursive: true });
    writeFileSync(join(data, 'bridge/recordings'), '');
    const { code, out, err } = await start('--bench', '--data', data);
    expect(err.trim()).toMatch(/^stillprop: [^\n]*bridge\/recordings[^\n]*$/);
    expect(err).not.toContain('ended unexpectedly');
    expect(out).toBe('');
    expect(code).toBe(2);
  });
});

test.skipIf(process.platform !== 'linux').each(['start --bench --data', 'demo --keep'])(
  '%s with a folder that the system will never make is refused at once',
  async (words) => {
    for (const folder of ['/proc/stillprop-data', '/proc']) {
      const { code, err } = await stillprop([...words.split(' '), folder], '', GIVE_UP_MS);
      expect(err.trim()).toMatch(/^stillprop: --(data|keep) \/proc[^\n]*$/);
      expect(code).toBe(2);
    }
  },
);

test('a file in the place of the data folder is refused', async () => {
  await inTemporaryFolder(async (dir) => {
    writeFileSync(join(dir, 'data'), '');
    const { code, err } = await start('--bench', '--data', join(dir, 'data'));
    expect(err.trim()).toMatch(/^stillprop: --data [^\n]*data cannot be used[^\n]*$/);
    expect(code).toBe(2);
  });
});

test('a link whose port is taken does not count as ready, and the message says what to do', async () => {
  const other = createSocket('udp4');
  await new Promise<void>((resolve) => other.bind(0, '127.0.0.1', resolve));
  const { port } = other.address();
  try {
    await inTemporaryFolder(async (dir) => {
      const path = linkFile(dir, (profile) => (profile.transport.listenPort = port));
      const words = ['--port', '0', '--link', path, '--data', join(dir, 'data')];
      const said = await startedWith(words, /not listening/);
      expect(said).not.toContain('is ready');
      expect(said).toMatch(new RegExp(`port ${port} is used by another program: .*transport\\.listenPort`));
    });
  } finally {
    await new Promise<void>((resolve) => other.close(() => resolve()));
  }
});

test('a link on an address of another computer does not count as ready, and the message says what to do', async () => {
  await inTemporaryFolder(async (dir) => {
    // 192.0.2.0/24 is kept for documentation (RFC 5737): no computer has an address of it.
    const path = linkFile(dir, (profile) => (profile.transport.listenHost = '192.0.2.9'));
    const said = await startedWith(['--port', '0', '--link', path, '--data', join(dir, 'data')], /not listening/);
    expect(said).not.toContain('is ready');
    expect(said).toMatch(/192\.0\.2\.9 is no address of this computer: .*transport\.listenHost/);
  });
});
