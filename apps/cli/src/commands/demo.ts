// `stillprop demo`: the whole chain once, on the stand-in simulator over real UDP, with its score printed.

import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CATALOGUE_FOLDERS, Scenario, Score, Station, StationAnswer } from '@stillprop/contracts';
import { debriefText } from '@stillprop/scoring';
import { z } from 'zod';
import { BadInput, numberOption } from '../badInput.js';
import { type Part, startPart, stopPart } from '../parts.js';
import { SHELF_DIR } from '../places.js';
import { prepareStandIn } from '../standIn.js';

const STATION = 'demo';
/** Simulated seconds within which any stand-in flight is over. */
const LONGEST_FLIGHT_S = 900;

export interface DemoOptions {
  readonly json?: boolean;
  readonly speed: string;
  readonly pilot: string;
  readonly seed: string;
  readonly height: string;
  readonly format: string;
  readonly drop: string;
  readonly keep?: string;
}

export async function demo(options: DemoOptions): Promise<void> {
  const speed = numberOption('--speed', options.speed, 0.1, 20);
  const seed = numberOption('--seed', options.seed, 0, 2 ** 31 - 1, true);
  const heightFt = numberOption('--height', options.height, 100, 5000);
  const drop = numberOption('--drop', options.drop, 0, 0.5);
  if (options.format !== 'text' && options.format !== 'json') {
    throw new BadInput(`--format must be text or json, got "${options.format}"`);
  }
  const dir = options.keep ?? mkdtempSync(join(tmpdir(), 'stillprop-demo-'));
  const parts: Part[] = [];
  const end = async () => {
    for (const part of parts.splice(0).reverse()) await stopPart(part);
    if (options.keep === undefined) rmSync(dir, { recursive: true, force: true });
  };
  process.once('SIGINT', () => void end().then(() => process.exit(130)));
  process.once('SIGTERM', () => void end().then(() => process.exit(143)));
  try {
    const standIn = await prepareStandIn(join(dir, 'links'), [options.format], '--keep');
    const link = standIn.links[0]?.profile;
    if (!link?.pilots?.includes(options.pilot)) {
      throw new BadInput(`--pilot must be one of ${link?.pilots?.join(', ')}, got "${options.pilot}"`);
    }
    const catalogue = ['--catalogue', writeDemoShelf(dir, heightFt)];
    const debrief = await startPart('debrief', ['--port', '0', '--data', join(dir, 'debrief'), ...catalogue], false);
    parts.push(debrief);
    const url = String(debrief.details.url);
    parts.push(
      await startPart('bench', [...standIn.benchWords, '--drop', String(drop), ...catalogue], false),
      await startPart(
        'bridge',
        [
          ...['--station', STATION, '--data', join(dir, 'bridge'), '--links', join(dir, 'links'), '--server', url],
          ...standIn.links.flatMap(({ path }) => ['--link', path]),
        ],
        false,
      ),
    );
    say(options, `Flying the stand-in: ${options.pilot}, failure at ${heightFt} ft, ${speed} times real time …`);
    const score = await flyOnce(url, { pilot: options.pilot, seed, speed, linkId: link.id });
    process.stdout.write(options.json ? `${JSON.stringify(score, null, 2)}\n` : debriefText(score));
  } finally {
    await end();
  }
}

/** The shelf for this one flight: what ships, and the first scenario with the height asked for. */
function writeDemoShelf(dir: string, heightFt: number): string {
  const shelf = join(dir, 'catalogue');
  for (const folder of CATALOGUE_FOLDERS) cpSync(join(SHELF_DIR, folder), join(shelf, folder), { recursive: true });
  const scenario = Scenario.parse(JSON.parse(readFileSync(join(shelf, 'scenarios/first-turn-back.json'), 'utf8')));
  const demoScenario: Scenario = {
    ...scenario,
    id: 'demo',
    name: `Demo: engine failure at ${heightFt} ft`,
    briefing: '',
    failure: { ...scenario.failure, height: { choose: 'fixed', heightFt }, highestHeightFt: heightFt + 300 },
  };
  writeFileSync(join(shelf, 'scenarios/demo.json'), JSON.stringify(demoScenario));
  return shelf;
}

async function flyOnce(
  url: string,
  how: { readonly pilot: string; readonly seed: number; readonly speed: number; readonly linkId: string },
): Promise<Score> {
  await until('the bridge to connect', 10_000, async () => {
    const stations = z.array(Station).parse(await (await fetch(`${url}/api/stations`)).json());
    return stations.some(
      (station) => station.station === STATION && station.connected && station.live?.link.state === 'receiving',
    )
      ? true
      : undefined;
  });
  const armed = await command(url, {
    command: 'arm',
    scenarioId: 'demo',
    linkId: how.linkId,
    student: null,
    seed: how.seed,
  });
  await command(url, { command: 'begin', scenarioId: 'demo', ...how });
  const attemptId = armed.attemptId;
  if (attemptId === null) throw new Error(armed.message);
  return until('the attempt to end', (LONGEST_FLIGHT_S / how.speed + 30) * 1000, async () => {
    const response = await fetch(`${url}/api/attempts/${attemptId}/score`);
    return response.ok ? Score.parse(await response.json()) : undefined;
  });
}

async function command(url: string, body: object): Promise<StationAnswer> {
  const response = await fetch(`${url}/api/stations/${STATION}/commands`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  const answer: unknown = await response.json();
  if (!response.ok) throw new Error((answer as { message?: string }).message ?? `HTTP ${response.status}`);
  return StationAnswer.parse(answer);
}

async function until<T>(what: string, withinMs: number, attempt: () => Promise<T | undefined>): Promise<T> {
  const giveUpAt = Date.now() + withinMs;
  for (;;) {
    const value = await attempt();
    if (value !== undefined) return value;
    if (Date.now() > giveUpAt) throw new Error(`Waited ${Math.round(withinMs / 1000)} s in vain for ${what}.`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

function say(options: DemoOptions, line: string): void {
  if (!options.json) console.error(line);
}
