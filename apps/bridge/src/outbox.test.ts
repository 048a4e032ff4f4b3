// The outbox lets a recording go only for a receipt of these very bytes, and loses none on the way there.
import { randomUUID } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { recordingLine } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { type Behaviour, fakeServer } from './fakeServer.fixture.js';
import { makeFolders } from './folders.js';
import { Outbox } from './outbox.js';
import { demoHeader, temporaryFolder, until } from './testing.fixture.js';

async function outboxWith(count: number, serverUrl: string | null, dataDir = temporaryFolder()) {
  const folders = await makeFolders(dataDir);
  const ids = Array.from({ length: count }, () => randomUUID());
  for (const id of ids) writeFileSync(join(folders.outbox, `${id}.ndjson`), recordingLine(demoHeader(id)));
  const refused: string[] = [];
  const outbox = new Outbox(folders, serverUrl, {
    onRefused: (message) => refused.push(message),
    log: () => undefined,
  });
  onTestFinished(() => outbox.close());
  return { folders, ids, outbox, refused, dataDir };
}

test('everything in the folder is delivered once, each with its checksum', async () => {
  const server = await fakeServer();
  const { folders, ids } = await outboxWith(3, server.url);
  await until(() => readdirSync(folders.outbox).length === 0);
  expect(server.posts.map(({ text }) => JSON.parse(text).attemptId).sort()).toEqual(ids.sort());
  for (const { claimed, sha256 } of server.posts) expect(claimed).toBe(sha256);
});

test.each<Behaviour>(['break', 'wrong-receipt'])(
  'a server that answers "%s" is asked again, and the file stays until then',
  async (behaviour) => {
    const server = await fakeServer();
    server.behaviour = behaviour;
    const { folders, outbox } = await outboxWith(1, server.url);
    await until(() => server.posts.length >= 2);
    expect(readdirSync(folders.outbox)).toHaveLength(1);
    expect(outbox.waiting).toBe(1);
    server.behaviour = 'take';
    await until(() => readdirSync(folders.outbox).length === 0);
    await until(() => outbox.waiting === 0);
  },
);

test('a recording that the server will not take is set aside with the reason, and said', async () => {
  const server = await fakeServer();
  server.behaviour = 'refuse';
  const { folders, refused, outbox, ids } = await outboxWith(1, server.url);
  await until(() => refused.length === 1);
  expect(readdirSync(folders.refused).sort()).toEqual([`${ids[0]}.ndjson`, `${ids[0]}.ndjson.reason.txt`]);
  expect(readFileSync(join(folders.refused, `${ids[0]}.ndjson.reason.txt`), 'utf8')).toContain('line 2 is wrong');
  await until(() => outbox.waiting === 0);
});

test('what one outbox could not deliver, the next one does', async () => {
  const { dataDir, outbox, ids } = await outboxWith(1, 'http://127.0.0.1:9'); // nobody listens there
  await until(() => outbox.waiting === 1);
  await outbox.close();
  const server = await fakeServer();
  await outboxWith(0, server.url, dataDir);
  await until(() => server.posts.length === 1);
  expect(server.posts[0]?.text).toContain(ids[0]);
});

test('without a server everything waits', async () => {
  const { outbox, folders } = await outboxWith(2, null);
  await until(() => outbox.waiting === 2);
  expect(readdirSync(folders.outbox)).toHaveLength(2);
});
