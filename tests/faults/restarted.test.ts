// `stillprop start` keeps its parts running: one that is killed is started again, and the pages find it again.
import { execFileSync } from 'node:child_process';
import { Station } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { inTemporaryFolder, until, withStillprop } from '../support/command.js';

/** Process ids of the running parts by name, from the process table. */
function partsOf(parentPid: number): Map<string, number> {
  const table = execFileSync('ps', ['-o', 'pid=,args=', '--ppid', String(parentPid)], { encoding: 'utf8' });
  const rows = [...table.matchAll(/^\s*(\d+)\s.*\bpart (\w+)/gm)];
  return new Map(rows.map((row) => [row[2] as string, Number(row[1])]));
}

async function receiving(url: string): Promise<true | undefined> {
  const stations = z.array(Station).parse(await (await fetch(`${url}/api/stations`)).json());
  return stations.some((station) => station.connected && station.live?.link.state === 'receiving') ? true : undefined;
}

test.skipIf(process.platform !== 'linux')('a killed bridge, stand-in or server is started again', async () => {
  await inTemporaryFolder((dir) =>
    withStillprop(dir, async ({ url, process: parent }) => {
      await until('samples', 20_000, () => receiving(url));
      for (const name of ['bridge', 'bench', 'debrief']) {
        const before = partsOf(parent.pid as number);
        expect([...before.keys()].sort()).toEqual(['bench', 'bridge', 'debrief']);
        process.kill(before.get(name) as number, 'SIGKILL');
        await until(`another ${name}`, 20_000, () => {
          const now = partsOf(parent.pid as number).get(name);
          return now !== undefined && now !== before.get(name) ? true : undefined;
        });
        await until(`samples after the ${name} was killed`, 30_000, () => receiving(url).catch(() => undefined));
      }
    }),
  );
});
