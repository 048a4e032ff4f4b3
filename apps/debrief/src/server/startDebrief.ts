// Starts the debrief server: opens the store, reads the catalogue, listens; pages are for this computer only.

import { existsSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { ENGINE_REVISION, returnMoment, scoreRecording, traceOf } from '@stillprop/scoring';
import { openStore } from '@stillprop/store';
import { buildApp } from './buildApp.js';
import { readCatalogue } from './catalogueFiles.js';
import { isLoopback } from './guards.js';
import { builtPages } from './pages.js';
import { stationTokens } from './stationTokens.js';
import { workerScoring } from './workerScoring.js';

const EVERY_ADDRESS: ReadonlySet<string> = new Set(['0.0.0.0', '::']);
/** A request still running this long after closing began is cut off. */
const CLOSE_WITHIN_MS = 3000;

export interface DebriefOptions {
  /**
   * Address to listen on: this computer's own (127.0.0.1, ::1 or localhost), or 0.0.0.0 or :: to take in bridges on other
   * computers, each by its token. Pages and commands stay this computer's.
   */
  readonly host?: string;
  /** 0: any free one. */
  readonly port: number;
  /** Folder for recordings and index; made if it is not there. */
  readonly dataDir: string;
  /** Folders of aeroplanes, runways, weather, rubrics and scenarios; a later one goes before an earlier. */
  readonly catalogueDirs: readonly string[];
  /** Folder of the built pages; when absent, the ones built with this package, if they are. */
  readonly webDir?: string;
  /** Largest recording taken; 256 MiB, an hour and a half at 100 samples a second, when absent. */
  readonly maxRecordingBytes?: number;
  readonly log: (line: string) => void;
}

export interface RunningDebrief {
  readonly url: string;
  readonly port: number;
  /** Ends connections and the scoring (what is not scored is after the next start), closes the store. */
  close(): Promise<void>;
}

/**
 * @throws {Error} With one sentence if the host is not this computer's own, the port is taken, a file of the catalogue
 *   is wrong, or the data folder cannot be used.
 */
export async function startDebrief(options: DebriefOptions): Promise<RunningDebrief> {
  const { host = '127.0.0.1', port, dataDir, catalogueDirs, maxRecordingBytes, log } = options;
  if (!isLoopback(host) && !EVERY_ADDRESS.has(host)) {
    const rule = '127.0.0.1, ::1 or localhost, or 0.0.0.0 or :: for bridges on other computers';
    throw new Error(`host must be ${rule}, got "${host}"`);
  }
  const address = host.toLowerCase() === 'localhost' ? '127.0.0.1' : host; // one socket, so that websockets meet it too
  const webDir = options.webDir ?? builtPages();
  if (webDir === undefined) log('The pages are not built, so only the API answers; npm run build makes them.');
  const catalogue = readCatalogue(catalogueDirs);
  const store = await openStore({ dataDir, log });
  // Run from source there is no built thread; scoring then takes its turn in this one.
  const script = new URL('./scoringWorker.js', import.meta.url);
  const worker = existsSync(script) ? workerScoring(script) : undefined;
  const scoring = { ENGINE_REVISION, traceOf, returnMoment, scoreRecording, ...worker };
  try {
    const app = buildApp({
      store,
      catalogue,
      scoring,
      log,
      tokens: stationTokens(dataDir),
      ...(webDir === undefined ? {} : { webDir }),
      ...(maxRecordingBytes === undefined ? {} : { maxRecordingBytes }),
    });
    try {
      await app.listen({ host: address, port });
    } catch (error) {
      await app.close();
      throw taken(error, address, port);
    }
    const bound = (app.server.address() as AddressInfo).port;
    return {
      url: `http://${ownAddress(address)}:${bound}`,
      port: bound,
      async close() {
        const late = setTimeout(() => app.server.closeAllConnections(), CLOSE_WITHIN_MS);
        await app.close();
        clearTimeout(late);
        await store.close();
      },
    };
  } catch (error) {
    await store.close();
    throw error;
  }
}

/** As a browser on this computer asks for it. */
function ownAddress(address: string): string {
  if (address === '0.0.0.0') return '127.0.0.1';
  return address.includes(':') ? '[::1]' : address;
}

function taken(error: unknown, host: string, port: number): unknown {
  if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') return error;
  return new Error(`port ${port} on ${host} is in use by another program: end that, or choose another port`, {
    cause: error,
  });
}
