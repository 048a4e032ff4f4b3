// `stillprop part NAME`: one part of the program in a process of its own; started by `start` and `demo`, not by hand.
import { startBench } from '@stillprop/bench';
import { startRoom } from '@stillprop/bridge';
import { startDebrief } from '@stillprop/debrief';
import { linkFiles, readLinks } from '../linkFiles.js';
import type { PartMessage, PartName } from '../parts.js';
import { readRoom, readToken } from '../roomFile.js';

export interface PartOptions {
  readonly data: string;
  readonly catalogue: string[];
  readonly port: string;
  readonly station: string;
  readonly server?: string;
  readonly host?: string;
  readonly link: string[];
  readonly room?: string;
  readonly tokenFile?: string;
  readonly links: string;
  readonly to: string[];
  readonly drop: string;
  readonly delay: string;
  readonly duplicate: string;
  readonly reorder: string;
  readonly rate: string;
}

interface Running {
  readonly details: Readonly<Record<string, string | number>>;
  close(): Promise<void>;
}

const log = (line: string) => console.error(line);

export async function part(name: PartName, options: PartOptions): Promise<void> {
  const tell = (message: PartMessage) => process.send?.(message);
  let running: Running;
  try {
    running = await PARTS[name](options);
  } catch (error) {
    tell({ type: 'refused', message: (error as Error).message });
    process.exitCode = 2;
    process.disconnect?.();
    return;
  }
  const end = () => {
    void running.close().then(
      () => process.exit(0),
      (error: unknown) => {
        log(String(error));
        process.exit(1);
      },
    );
  };
  process.once('SIGTERM', end);
  // Ctrl+C reaches every process of the terminal; the parent then ends its parts one by one.
  process.on('SIGINT', () => {});
  process.once('disconnect', end);
  if (process.send !== undefined && !process.connected)
    end(); // the parent went while this part started
  else tell({ type: 'ready', details: running.details });
}

const PARTS: Record<PartName, (options: PartOptions) => Promise<Running>> = {
  async debrief(options) {
    const server = await startDebrief({
      ...(options.host !== undefined && { host: options.host }),
      port: Number(options.port),
      dataDir: options.data,
      catalogueDirs: options.catalogue,
      log,
    });
    return { details: { url: server.url, port: server.port }, close: () => server.close() };
  },
  async bridge(options) {
    const stations =
      options.room === undefined
        ? [
            {
              station: options.station,
              links: readLinks(linkFiles(options.link, options.links)),
              linksDir: options.links,
              token: options.tokenFile === undefined ? null : readToken(options.tokenFile),
            },
          ]
        : readRoom(options.room, options.links);
    const room = await startRoom({ stations, serverUrl: options.server ?? null, dataDir: options.data, log });
    const problems = room.stations.map((station) => station.linkProblem()).filter((problem) => problem !== null);
    return {
      details: { stations: stations.length, ...(problems.length > 0 && { linkProblem: problems.join('\n  ') }) },
      close: () => room.close(),
    };
  },
  async bench(options) {
    const bench = await startBench({
      catalogueDirs: options.catalogue,
      commandPort: Number(options.port),
      targets: options.to.map((word) => {
        const [format, port] = word.split(':');
        return { format: format === 'json' ? 'json' : 'text', host: '127.0.0.1', port: Number(port) };
      }),
      rateHz: Number(options.rate),
      faults: {
        drop: Number(options.drop),
        duplicate: Number(options.duplicate),
        reorder: Number(options.reorder),
        delayMs: Number(options.delay),
      },
      log,
    });
    return { details: { commandPort: bench.commandPort }, close: () => bench.close() };
  },
};
