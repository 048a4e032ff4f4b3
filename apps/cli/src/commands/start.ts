// `stillprop start`: bridge, debrief and, with --bench, the stand-in simulator, each kept running until Ctrl+C.

import { join } from 'node:path';
import { folderHolder } from '@stillprop/bridge';
import { BadInput, numberOption } from '../badInput.js';
import { KeptParts } from '../keptParts.js';
import { linkFiles } from '../linkFiles.js';
import { makeFolder } from '../makeFolder.js';
import { shelves } from '../places.js';
import { prepareStandIn } from '../standIn.js';

export interface StartOptions {
  readonly bench?: boolean;
  readonly port: string;
  readonly data: string;
  readonly station: string;
  readonly link: string[];
}

export async function start(options: StartOptions): Promise<void> {
  const port = numberOption('--port', options.port, 0, 65_535, true);
  const dataDir = options.data;
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
  const links = linkFiles(standIn?.links.map(({ path }) => path) ?? [], options.link, dataDir);
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
    const pages = ['--data', debriefDir, ...catalogue];
    const debrief = await parts.keep('debrief', ['--port', String(port), ...pages]);
    // Started again, it must be where bridge and browser know it to be, also if any free port was asked for.
    debrief.words = ['--port', String(debrief.part.details.port), ...pages];
    const url = String(debrief.part.details.url);
    const bridge = await parts.keep('bridge', [
      ...['--station', options.station, '--data', bridgeDir, '--server', url],
      ...['--links', join(dataDir, 'links')],
      ...links.flatMap((path) => ['--link', path]),
    ]);
    if (standIn) await parts.keep('bench', [...standIn.benchWords, ...catalogue]);
    const { linkProblem } = bridge.part.details;
    process.stdout.write(
      linkProblem === undefined
        ? welcome(url, { bench: standIn !== null, linked: links.length > 0 }, dataDir)
        : deaf(url, String(linkProblem), dataDir),
    );
  } catch (error) {
    await parts.end();
    throw error;
  }
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
