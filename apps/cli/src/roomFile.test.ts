// The file of a room: its links and tokens are found beside it, and what cannot work is refused in one line.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { BadInput } from './badInput.js';
import { linkFiles, readLinks } from './linkFiles.js';
import { SHELF_DIR } from './places.js';
import { readRoom } from './roomFile.js';

const shipped = (name: string) =>
  JSON.parse(readFileSync(join(SHELF_DIR, 'links', `${name}.json`), 'utf8')) as {
    transport: object;
    [field: string]: unknown;
  };
const on = (listenPort: number, id = 'stand-in-text') => {
  const profile = shipped('stand-in-text');
  return { ...profile, id, transport: { ...profile.transport, listenPort } };
};

function folder(files: Readonly<Record<string, unknown>>): string {
  const dir = mkdtempSync(join(tmpdir(), 'stillprop-room-'));
  onTestFinished(() => rmSync(dir, { recursive: true }));
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(dir, name)), { recursive: true });
    writeFileSync(join(dir, name), typeof content === 'string' ? content : JSON.stringify(content));
  }
  return dir;
}
const roomOf = (...stations: object[]) => ({ schemaVersion: 1, stations });
const TOKEN = 'abcdefghijklmnopqrstuvwxyz0123456789_-ABCDE';

test('names its stations, each with the links and the token beside it', () => {
  const dir = folder({
    'room.json': roomOf(
      { name: 'Left', links: ['links/left.json'], tokenFile: 'left.token' },
      { name: 'Right', links: ['links/right.json', 'links/second.json'] },
    ),
    'links/left.json': on(5001),
    'links/right.json': { ...shipped('example-tcp-lines') },
    'links/second.json': shipped('example-second-link'),
    'left.token': `${TOKEN}\n`,
  });
  const stations = readRoom(join(dir, 'room.json'), join(dir, 'taught'));
  expect(stations.map(({ station, links, token }) => [station, links.map(({ id }) => id), token])).toEqual([
    ['Left', ['stand-in-text'], TOKEN],
    ['Right', ['example-tcp-lines', 'example-second-link'], null],
  ]);
});

test('a link taught at one of the stations is of that one alone, whatever its name', () => {
  const names = ['Left', '../Right'];
  const dir = folder({
    'room.json': roomOf(...names.map((name, index) => ({ name, links: [`${index}.json`] }))),
    '0.json': on(5001),
    '1.json': on(5002),
  });
  const read = () => readRoom(join(dir, 'room.json'), join(dir, 'taught'));
  for (const [index, { linksDir }] of read().entries()) {
    expect(dirname(linksDir)).toBe(join(dir, 'taught'));
    mkdirSync(linksDir, { recursive: true });
    writeFileSync(join(linksDir, 'new.json'), JSON.stringify(on(6001 + index, `taught-${index}`)));
  }
  expect(read().map(({ station, links }) => [station, links.map(({ id }) => id)])).toEqual([
    ['Left', ['stand-in-text', 'taught-0']],
    ['../Right', ['stand-in-text', 'taught-1']],
  ]);
});

test.each<[string, Record<string, unknown>, RegExp]>([
  ['no station', { 'room.json': roomOf() }, /room\.json: stations must name at least one station/],
  [
    'one name twice',
    {
      'room.json': roomOf({ name: 'A', links: ['a.json'] }, { name: 'A', links: ['b.json'] }),
      'a.json': on(0),
      'b.json': on(0),
    },
    /stations\[\d\]\.name must differ from station to station, got "A" twice/,
  ],
  [
    'one port for two stations',
    {
      'room.json': roomOf({ name: 'A', links: ['a.json'] }, { name: 'B', links: ['b.json'] }),
      'a.json': on(5001),
      'b.json': on(5001),
    },
    /stations "A" and "B" \(link "stand-in-text"\) both listen on UDP port 5001: each station needs a port of its own/,
  ],
  [
    'a link file that is not there',
    { 'room.json': roomOf({ name: 'A', links: ['a.json'] }) },
    /a\.json: there is no such file/,
  ],
  [
    'a link that needs another',
    { 'room.json': roomOf({ name: 'A', links: ['a.json'] }), 'a.json': shipped('example-tcp-lines') },
    /a\.json: merge must be one of the links given, got "example-second-link"/,
  ],
  [
    'a token file without a token',
    { 'room.json': roomOf({ name: 'A', links: ['a.json'], tokenFile: 't' }), 'a.json': on(0), t: 'two words' },
    /t must hold the token that/,
  ],
])('refused: %s', (_, files, sentence) => {
  const dir = folder(files);
  const read = () => readRoom(join(dir, 'room.json'), join(dir, 'taught'));
  expect(read).toThrow(BadInput);
  expect(read).toThrow(sentence);
});

test('of several link files given, those that belong together are a set, and the others are to choose from', () => {
  const dir = folder({
    'a.json': on(0),
    'b.json': shipped('example-tcp-lines'),
    'c.json': shipped('example-second-link'),
  });
  const paths = ['a.json', 'b.json', 'c.json'].map((name) => join(dir, name));
  const ids = ['stand-in-text', 'example-tcp-lines', 'example-second-link'];
  expect(readLinks(linkFiles(paths, join(dir, 'none'))).map(({ id }) => id)).toEqual(ids);
  expect(() => readLinks(paths.slice(0, 2))).toThrow(/b\.json: merge must be one of stand-in-text/);
  expect(() => readLinks(paths.slice(2))).toThrow(/c\.json: supplement only supplies channels to others/);
});
