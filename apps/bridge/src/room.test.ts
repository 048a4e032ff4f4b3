// A whole room on one bridge: each station has its own attempt and recording, and no sample of any is lost.
import { createSocket } from 'node:dgram';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Recording, readRecording } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import { expect, onTestFinished, test } from 'vitest';
import { type RoomOptions, startRoom } from './bridge.js';
import { fakeServer } from './fakeServer.fixture.js';
import { demoBundle, demoLink, demoSample, temporaryFolder, until } from './testing.fixture.js';

const ARM = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
const STATIONS = 8;
const SAMPLES = 120;
const names = Array.from({ length: STATIONS }, (_, index) => `Station ${index + 1}`);

async function room(own: Partial<RoomOptions> = {}) {
  const dataDir = temporaryFolder();
  const stations = names.map((station) => ({ station, links: [demoLink(1)] }));
  const started = await startRoom({ stations, serverUrl: null, dataDir, ...own });
  onTestFinished(() => started.close());
  return { room: started, dataDir };
}

function recordingsIn(folder: string): Recording[] {
  return readdirSync(folder).map((name) => {
    const read = readRecording(readFileSync(join(folder, name), 'utf8'));
    if (!read.ok) throw new Error(read.problem.message);
    return read.recording;
  });
}

test('every sample of every station is in the recording of that station, in order', async () => {
  const { room: started, dataDir } = await room();
  const { stations } = started;
  for (const station of stations) expect((await station.command(ARM)).ok).toBe(true);
  const socket = createSocket('udp4');
  onTestFinished(() => {
    socket.close();
  });
  for (let index = 0; index < SAMPLES; index += 1) {
    for (const [place, station] of stations.entries()) {
      const sample = { ...demoSample(1 + index / 60), headingDeg: 10 * place };
      socket.send(standInText(sample), station.linkAddress()?.port ?? 0, '127.0.0.1');
    }
    await new Promise((resolve) => setTimeout(resolve, 4));
  }
  await until(() => stations.every((station) => station.live().link.received === SAMPLES));
  for (const station of stations) await station.command({ command: 'stop' });
  await until(() => stations.every((station) => station.live().outboxWaiting === STATIONS));

  const recordings = recordingsIn(join(dataDir, 'outbox'));
  expect(recordings.map(({ header }) => header.station).sort()).toEqual(names);
  const sent = Array.from({ length: SAMPLES }, (_, index) => Number((1 + index / 60).toFixed(3)));
  for (const { header, samples } of recordings) {
    expect(samples.map(({ timeS }) => timeS)).toEqual(sent);
    expect(new Set(samples.map(({ headingDeg }) => headingDeg))).toEqual(new Set([10 * names.indexOf(header.station)]));
  }
});

test('the server sees every station, by a connection of its own, and commands go to the one they are for', async () => {
  const server = await fakeServer();
  const { room: started } = await room({ serverUrl: server.url });
  const hellos = () => server.messages.flatMap((message) => (message.type === 'hello' ? [message.station] : []));
  await until(() => hellos().length === STATIONS);
  expect(hellos().sort()).toEqual(names);
  expect(new Set(server.instances).size).toBe(STATIONS);
  await started.stations[2]?.command(ARM);
  expect(started.stations.map((station) => station.live().exercise.state)).toEqual(
    names.map((_, index) => (index === 2 ? 'armed' : 'idle')),
  );
});

test('two stations of one name are refused, and so is a link that cannot work, before anything is opened', async () => {
  const twice = { station: 'Station 1', links: [demoLink(1)] };
  await expect(room({ stations: [twice, twice] })).rejects.toThrow(
    'name must differ from station to station, got "Station 1" twice',
  );
  const wrong = demoLink(1, { supplement: true });
  await expect(room({ stations: [{ station: 'Station 1', links: [wrong] }] })).rejects.toThrow(
    'link "stand-in-text": supplement only supplies channels to others',
  );
});
