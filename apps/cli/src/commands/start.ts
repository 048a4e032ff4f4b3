// `stillprop start`: bridge, debrief and, with --bench, the stand-in simulator, each kept running until Ctrl+C.

import { existsSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { LinkProfile } from '@stillprop/contracts';
import { BadInput, numberOption, readJsonInput } from '../badInput.js';
import { type Part, type PartName, PartRefused, startPart, stopPart } from '../parts.js';
import { shelves } from '../places.js';
import { prepareStandIn, type StandIn } from '../standIn.js';

const RESTART_PAUSE_MS = 1000;
/** A part that ends this soon after its start, this often, is not started again. */
const SHORT_LIFE_MS = 10_000;
const MOST_SHORT_LIVES = 5;

export interface StartOptions {
  readonly bench?: boolean;
  readonly port: string;
  readonly data: string;
  readonly station: string;
  readonly link: string[];
}

interface Kept {
  readonly name: PartName;
  /** Words it is started again with. */
  words: readonly string[];
  part: Part;
}

export async function start(options: StartOptions): Promise<void> {
  const port = numberOption('--port', options.port, 0, 65_535, true);
  const dataDir = options.data;
  try {
    mkdirSync(dataDir, { recursive: true });
  } catch (error) {
    throw new BadInput(`--data ${dataDir} cannot be made a folder (${(error as NodeJS.ErrnoException).code})`);
  }
  const standIn = options.bench ? await prepareStandIn(join(dataDir, 'stand-in'), ['text', 'json']) : undefined;
  const links = linkFiles(options.link, dataDir, standIn);
  const catalogue = shelves(dataDir).flatMap((dir) => ['--catalogue', dir]);
  const kept: Kept[] = [];
  let ending = false;

  const keep = async (name: PartName, words: readonly string[]): Promise<Kept> => {
    const entry: Kept = { name, words, part: await startPart(name, words, true) };
    kept.push(entry);
    watch(entry);
    return entry;
  };
  let shortLives = 0;
  const watch = (entry: Kept): void => {
    const since = Date.now();
    entry.part.process.once('exit', () => {
      if (ending) return;
      shortLives = Date.now() - since < SHORT_LIFE_MS ? shortLives + 1 : 0;
      if (shortLives > MOST_SHORT_LIVES) {
        console.error(`The ${entry.name} keeps ending. Stopping; nothing recorded is lost: ${dataDir}`);
        void end(1);
        return;
      }
      console.error(`The ${entry.name} ended unexpectedly and is started again.`);
      setTimeout(() => {
        if (ending) return;
        startPart(entry.name, entry.words, true).then(
          (part) => {
            entry.part = part;
            watch(entry);
          },
          (error: Error) => {
            console.error(error.message);
            void end(1);
          },
        );
      }, RESTART_PAUSE_MS);
    });
  };
  const end = async (code: number): Promise<void> => {
    if (ending) return;
    ending = true;
    // The bridge first: it closes its recording and hands over what it can.
    for (const name of ['bridge', 'bench', 'debrief'] as const) {
      await Promise.all(kept.filter((entry) => entry.name === name).map((entry) => stopPart(entry.part)));
    }
    process.exit(code);
  };
  process.on('SIGINT', () => void end(0));
  process.on('SIGTERM', () => void end(0));

  try {
    const pages = ['--data', join(dataDir, 'debrief'), ...catalogue];
    const debrief = await keep('debrief', ['--port', String(port), ...pages]);
    // Started again, it must be where bridge and browser know it to be, also if any free port was asked for.
    debrief.words = ['--port', String(debrief.part.details.port), ...pages];
    const url = String(debrief.part.details.url);
    await keep('bridge', [
      ...['--station', options.station, '--data', join(dataDir, 'bridge'), '--server', url],
      ...links.flatMap((path) => ['--link', path]),
    ]);
    if (standIn) await keep('bench', [...standIn.benchWords, ...catalogue]);
    process.stdout.write(welcome(url, standIn !== undefined, dataDir));
  } catch (error) {
    for (const entry of kept) await stopPart(entry.part);
    if (error instanceof PartRefused) throw new BadInput(error.message);
    throw error;
  }
}

/** The stand-in's link files, those named on the command line, and those in the data folder. */
function linkFiles(named: readonly string[], dataDir: string, standIn: StandIn | undefined): string[] {
  const folder = join(dataDir, 'links');
  const kept = existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith('.json'))
        .sort()
        .map((name) => join(folder, name))
    : [];
  const links = [...(standIn?.links.map(({ path }) => path) ?? []), ...named, ...kept];
  // Read here too, so that a wrong file is one clear line at once.
  for (const path of links) readJsonInput(LinkProfile, path);
  if (links.length === 0) {
    throw new BadInput(
      `no link to a simulator: name a link file with --link FILE, put one into ${folder}, or try the stand-in with --bench`,
    );
  }
  return links;
}

function welcome(url: string, bench: boolean, dataDir: string): string {
  return [
    '',
    `  Stillprop is ready:  ${url}`,
    '',
    bench
      ? '  No simulator is needed: on that page press “Fly the stand-in” and watch an engine failure flown and scored.'
      : '  On that page choose a scenario and a link, and press “Arm”.',
    `  Recordings are kept in ${dataDir}. Stop with Ctrl+C.`,
    '  Simulator practice only. Not a licence to try it low in an aeroplane.',
    '',
    '',
  ].join('\n');
}
