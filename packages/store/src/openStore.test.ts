// The store on SQLite: the suite that every store must pass, and what a crash or a bad folder does to this one.
import { createHash, randomUUID } from 'node:crypto';
import { copyFile, mkdir, mkdtemp, readdir, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { attemptStoreContract, type StoreUnderTest } from './attemptStoreContract.fixture.js';
import { deletionContract } from './deletionContract.fixture.js';
import { type AttemptStore, openStore } from './index.js';
import { notesContract } from './notesContract.fixture.js';
import { recordingText } from './recording.fixture.js';

async function onSqlite(): Promise<StoreUnderTest> {
  const dataDir = await mkdtemp(join(tmpdir(), 'stillprop-store-'));
  let store = await openStore({ dataDir });
  return {
    store,
    async reopen() {
      await store.close();
      store = await openStore({ dataDir });
      return store;
    },
    async dispose() {
      await store.close();
      await rm(dataDir, { recursive: true });
    },
  };
}
attemptStoreContract('SQLite', onSqlite);
notesContract('SQLite', onSqlite);
deletionContract('SQLite', onSqlite);

const ID = 'b7d0f3a4-51c6-4f0e-8a77-2f5d9c3e1b60';
let dataDir: string;
let store: AttemptStore | undefined;
const said: string[] = [];
const open = async () => {
  store = await openStore({ dataDir, log: (sentence) => said.push(sentence) });
  return store;
};
const close = async () => {
  await store?.close();
  store = undefined;
};
const send = (to: AttemptStore, text: string) =>
  to.receive(Buffer.from(text), createHash('sha256').update(text).digest('hex'));
const onDisk = (name: string) => join(dataDir, 'recordings', name);

beforeEach(async () => {
  dataDir = join(await mkdtemp(join(tmpdir(), 'stillprop-store-')), 'data');
  said.length = 0;
});
afterEach(async () => {
  await close();
  await rm(join(dataDir, '..'), { recursive: true });
});

test('a recording lies under its attempt id, and nothing else is left beside it', async () => {
  await send(await open(), recordingText({ attemptId: ID }));
  expect(await readdir(join(dataDir, 'recordings'))).toEqual([`${ID}.ndjson`]);
});

test('a crash between file and index: the recording is listed when the store is opened again', async () => {
  await send(await open(), recordingText({ attemptId: randomUUID() }));
  await close();
  await writeFile(onDisk(`${ID}.ndjson`), recordingText({ attemptId: ID, samples: 4 }));
  expect((await (await open()).list({ limit: 10 })).total).toBe(2);
  expect(said).toEqual(['1 recording found that the list of attempts lacked: added']);
  expect(await send(store as AttemptStore, recordingText({ attemptId: ID, samples: 4 }))).toMatchObject({
    already: true,
  });
});

test('a crash between a replaced file and its index row: the row follows the file', async () => {
  await send(await open(), recordingText({ attemptId: ID, samples: 3, end: null }));
  await close();
  await writeFile(onDisk(`${ID}.ndjson`), recordingText({ attemptId: ID, samples: 9 }));
  expect((await (await open()).get(ID))?.row).toMatchObject({ samples: 9, complete: true });
});

test('without its index, or with one from an older time, the store lists every recording', async () => {
  const first = await open();
  await send(first, recordingText({ attemptId: ID }));
  await close();
  await mkdir(join(dataDir, 'kept'));
  await copyFile(join(dataDir, 'stillprop.sqlite'), join(dataDir, 'kept', 'stillprop.sqlite'));
  await send(await open(), recordingText({ attemptId: randomUUID() }));
  await close();
  await copyFile(join(dataDir, 'kept', 'stillprop.sqlite'), join(dataDir, 'stillprop.sqlite'));
  expect((await (await open()).list({ limit: 10 })).total).toBe(2);
  await close();
  for (const name of await readdir(dataDir)) {
    if (name.startsWith('stillprop.sqlite')) await rm(join(dataDir, name));
  }
  expect((await (await open()).list({ limit: 10 })).total).toBe(2);
});

test('an index row whose recording was deleted goes when the index is rebuilt, and the file comes back when sent', async () => {
  const text = recordingText({ attemptId: ID });
  await send(await open(), text);
  await rm(onDisk(`${ID}.ndjson`));
  expect(await send(store as AttemptStore, text)).toMatchObject({ ok: true, already: false });
  await rm(onDisk(`${ID}.ndjson`));
  expect(await store?.reindex()).toEqual({ indexed: 0, dropped: 1, unreadable: [] });
  expect((await store?.list({ limit: 10 }))?.total).toBe(0);
});

test('recordings that cannot be read are told and left alone', async () => {
  await send(await open(), recordingText({ attemptId: randomUUID() }));
  await close();
  const other = randomUUID();
  await writeFile(onDisk(`${ID}.ndjson`), '{"kind":"header"}\n');
  await writeFile(onDisk(`${other}.ndjson`), recordingText({ attemptId: ID }));
  await writeFile(onDisk('notes.txt'), 'not ours');
  expect((await (await open()).list({ limit: 10 })).total).toBe(1);
  expect(said.sort()).toEqual(
    [
      `recording ${ID} cannot be read: line 1 is no header of a stillprop-recording`,
      `recording ${other} holds another attempt, ${ID}`,
    ].sort(),
  );
  expect((await readdir(join(dataDir, 'recordings'))).length).toBe(4);
});

test('parts of an interrupted write are cleared when old, and never taken for a recording', async () => {
  await open();
  await close();
  const old = onDisk(`${ID}.ndjson.aaaa.part`);
  const fresh = onDisk(`${ID}.ndjson.bbbb.part`);
  for (const path of [old, fresh]) await writeFile(path, recordingText({ attemptId: ID }));
  await utimes(old, new Date(0), new Date(0));
  expect((await (await open()).list({ limit: 10 })).total).toBe(0);
  await expect(stat(old)).rejects.toThrow('ENOENT');
  expect((await stat(fresh)).isFile()).toBe(true);
});

test('when the disk refuses, receiving fails, nothing is listed, and the next attempt works', async () => {
  const opened = await open();
  await rm(join(dataDir, 'recordings'), { recursive: true });
  await expect(send(opened, recordingText({ attemptId: ID }))).rejects.toThrow('ENOENT');
  expect((await opened.list({ limit: 1 })).total).toBe(0);
  await mkdir(join(dataDir, 'recordings'));
  expect(await send(opened, recordingText({ attemptId: ID }))).toMatchObject({ ok: true, already: false });
});

test('when only the index refuses, the file is kept unlisted; sent again, or opened anew, it is listed', async () => {
  const opened = await open();
  const raw = new BetterSqlite3(join(dataDir, 'stillprop.sqlite'));
  raw.exec("create trigger refuse before insert on attempt begin select raise(abort, 'no room'); end");
  const [sentAgain, foundLater] = [recordingText({ attemptId: ID }), recordingText({ attemptId: randomUUID() })];
  await expect(send(opened, sentAgain)).rejects.toThrow('no room');
  await expect(send(opened, foundLater)).rejects.toThrow('no room');
  expect([(await readdir(join(dataDir, 'recordings'))).length, (await opened.list({ limit: 1 })).total]).toEqual([
    2, 0,
  ]);
  raw.exec('drop trigger refuse');
  raw.close();
  expect(await send(opened, sentAgain)).toMatchObject({ ok: true, already: true });
  expect((await opened.list({ limit: 1 })).total).toBe(1);
  await close();
  expect((await (await open()).list({ limit: 1 })).total).toBe(2);
});

test('an index of the first version is brought forward with all that is in it, to be scored anew', async () => {
  const opened = await open();
  const text = recordingText({ attemptId: ID });
  await send(opened, text);
  await close();
  const raw = new BetterSqlite3(join(dataDir, 'stillprop.sqlite'));
  raw.exec('drop index attempt_for_comparing');
  for (const column of ['delay_s', 'bank_deg', 'airspeed_kt', 'touchdown_ft', 'cost_ft'])
    raw.exec(`alter table attempt drop column ${column}`);
  raw.exec('drop table deleted');
  raw.exec("delete from kysely_migration where name in ('0002-measured-figures', '0003-deleted-attempts')");
  raw.exec("update attempt set engine_revision = '3', overall = 71, outcome = 'stopped-on-runway'");
  raw.close();
  const again = await open();
  expect((await again.list({ limit: 5 })).attempts).toMatchObject([
    { attemptId: ID, engineRevision: null, delayS: null },
  ]);
  expect(await again.unscored('3')).toEqual([ID]);
});

test('an index of a newer version is refused and not touched', async () => {
  await open();
  await close();
  const raw = new BetterSqlite3(join(dataDir, 'stillprop.sqlite'));
  raw.exec("insert into kysely_migration values ('9999-later', '2030-01-01T00:00:00.000Z')");
  raw.close();
  await expect(open()).rejects.toThrow(
    /^The index of attempts .*stillprop\.sqlite cannot be opened: it was written by a newer Stillprop \(step 9999-later\)/,
  );
});

test('a file that is no index is refused with its name', async () => {
  await mkdir(dataDir);
  await writeFile(
    join(dataDir, 'stillprop.sqlite'),
    'this is a letter, not a database, and long enough to be read as one'.repeat(20),
  );
  await expect(open()).rejects.toThrow(/stillprop\.sqlite cannot be opened: .*not a database/);
});

test('a data folder that is a file is refused with its name', async () => {
  await writeFile(dataDir, '');
  await expect(open()).rejects.toThrow(`The data folder ${dataDir} cannot be used`);
});
