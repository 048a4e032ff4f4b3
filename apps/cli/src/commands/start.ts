// `stillprop start`: bridge, debrief and, with --bench, the stand-in simulator, each kept running until Ctrl+C.

import { join } from 'node:path';
import { folderHolder } from '@stillprop/bridge';
import { BadInput, numberOption } from '../badInput.js';
import { KeptParts } from '../keptParts.js';
import { linkFiles, readLinks } from '../linkFiles.js';
import { makeFolder } from '../makeFolder.js';
import { shelves } from '../places.js';
import { readRoom, readToken } from '../roomFile.js';
import { prepareStandIn, type StandIn } from '../standIn.js';

export interface StartOptions {
  readonly bench?: boolean;
  readonly port: string;
  readonly data: string;
  readonly station?: string;
  readonly link: string[];
  readonly room?: string;
  readonly network?: boolean;
  readonly server?: string;
  readonly tokenFile?: string;
}

export async function start(options: StartOptions): Promise<void> {
  const port = numberOption('--port', options.port, 0, 65_535, true);
  const dataDir = options.data;
  refuseContradictions(options);
  const bridgeDir = join(dataDir, 'bridge');
  const debriefDir = join(dataDir, 'debrief');
  makeFolder(dataDir, '--data');
  const holder = await folderHolder(bridgeDir);
  if (holder !== null) {
    throw new BadInput(
      `--data ${dataDir} is in use by another Stillprop (${holder}): end that, or choose another folder with --data`,
    );
  }
  const standIn = options.bench ? await prepareStandIn(join(dataDir, 'stand-in'), ['text', 'json'], '--data') : null;
  const linksFolder = join(dataDir, 'links');
  const linkPaths = options.room === undefined ? ownLinks(options.link, standIn, linksFolder) : [];
  const bridgeWords = options.room === undefined ? ownWords(options, linkPaths) : roomWords(options.room, linksFolder);
  makeFolder(bridgeDir, '--data');
  makeFolder(debriefDir, '--data');
  const catalogue = shelves(dataDir).flatMap((dir) => ['--catalogue', dir]);

  const parts = new KeptParts((code, message) => {
    console.error(`stillprop: ${message}`);
    process.exit(code);
  });
  const end = async () => {
    if (await parts.end()) process.exit(0);
  };
  process.on('SIGINT', () => void end());
  process.on('SIGTERM', () => void end());

  try {
    const pages = ['--data', debriefDir, ...(options.network ? ['--host', '0.0.0.0'] : []), ...catalogue];
    const url = options.server ?? (await keepDebrief(parts, port, pages));
    const kept = ['--data', bridgeDir, '--links', linksFolder];
    const bridge = await parts.keep('bridge', [...kept, '--server', url, ...bridgeWords]);
    if (standIn) await parts.keep('bench', [...standIn.benchWords, ...catalogue]);
    const { linkProblem } = bridge.part.details;
    process.stdout.write(
      linkProblem !== undefined
        ? deaf(url, String(linkProblem), dataDir)
        : options.server === undefined
          ? welcome(
              url,
              { bench: standIn !== null, linked: options.room !== undefined || linkPaths.length > 0 },
              dataDir,
            )
          : serving(url, dataDir),
    );
  } catch (error) {
    await parts.end();
    throw error;
  }
}

async function keepDebrief(parts: KeptParts, port: number, pages: readonly string[]): Promise<string> {
  const debrief = await parts.keep('debrief', ['--port', String(port), ...pages]);
  // Started again, it must be where bridge and browser know it to be, also if any free port was asked for.
  debrief.words = ['--port', String(debrief.part.details.port), ...pages];
  return String(debrief.part.details.url);
}

function refuseContradictions({ room, link, bench, station, server, network, tokenFile }: StartOptions): void {
  if (room !== undefined && (link.length > 0 || bench || station !== undefined || tokenFile !== undefined)) {
    throw new BadInput(
      '--room names stations, links and token files itself: leave out --link, --bench, --station and --token-file',
    );
  }
  if (server === undefined) {
    if (tokenFile !== undefined)
      throw new BadInput('--token-file is for a debrief server elsewhere: give --server too');
    return;
  }
  if (network) throw new BadInput('--network is for a debrief server here, and --server for one elsewhere: give one');
  if (!/^https?:\/\/[^\s/?#]+\/?$/.test(server)) {
    throw new BadInput(`--server must be an address such as http://192.168.1.5:47180, got "${server}"`);
  }
}

/** Those of the one station that is not told by a room, held to all that the bridge asks before anything is started. */
function ownLinks(named: readonly string[], standIn: StandIn | null, folder: string): string[] {
  const paths = linkFiles([...(standIn?.links.map(({ path }) => path) ?? []), ...named], folder);
  readLinks(paths);
  return paths;
}

function ownWords(options: StartOptions, links: readonly string[]): string[] {
  if (options.tokenFile !== undefined) readToken(options.tokenFile);
  return [
    ...['--station', options.station ?? 'home'],
    ...(options.tokenFile === undefined ? [] : ['--token-file', options.tokenFile]),
    ...links.flatMap((path) => ['--link', path]),
  ];
}

function roomWords(path: string, linksFolder: string): string[] {
  readRoom(path, linksFolder);
  return ['--room', path];
}

function welcome(
  url: string,
  { bench, linked }: { readonly bench: boolean; readonly linked: boolean },
  dataDir: string,
): string {
  return said([
    `Stillprop is ready:  ${url}`,
    '',
    bench
      ? 'No simulator is needed: on that page press “Fly the stand-in” and watch an engine failure flown and scored.'
      : linked
        ? 'On that page choose a scenario and a link, and press “Arm”.'
        : `There is no link to a simulator yet: teach it one on ${url}/link, or look at the stand-in with --bench.`,
    ...lastWords(dataDir),
  ]);
}

/** The pages are another computer's. */
function serving(url: string, dataDir: string): string {
  return said([
    `The bridge is ready, and hands recordings to the debrief server at ${url}.`,
    '',
    'Arm and read debriefs on the computer of that server. What it has not taken yet is kept here.',
    ...lastWords(dataDir),
  ]);
}

/** Everything runs, but nothing of the simulator can come in. */
function deaf(url: string, linkProblem: string, dataDir: string): string {
  return said([
    `Stillprop runs, but is not listening to your simulator:  ${url}`,
    '',
    linkProblem,
    'It tries again every few seconds, and the page says when it listens.',
    ...lastWords(dataDir),
  ]);
}

function lastWords(dataDir: string): string[] {
  return [
    `Recordings are kept in ${dataDir}. Stop with Ctrl+C.`,
    'Simulator practice only. Not a licence to try it low in an aeroplane.',
  ];
}

function said(lines: readonly string[]): string {
  return ['', ...lines.map((line) => (line === '' ? '' : `  ${line}`)), '', ''].join('\n');
}
