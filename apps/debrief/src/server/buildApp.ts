// Puts the server together, without listening: routes, websockets, guards, pages. Tests inject into it.
import type { Catalogue } from '@stillprop/contracts';
import type { AttemptStore } from '@stillprop/store';
import fastify, { type FastifyInstance } from 'fastify';
import { answerErrors } from './apiFailure.js';
import { guard } from './guards.js';
import { liveFeed } from './liveFeed.js';
import { describeRoutes } from './openApi.js';
import { servePages } from './pages.js';
import { PATIENCE, type Patience, waitingOptions } from './patience.js';
import { attemptRoutes } from './routes/attempts.js';
import { compareRoutes } from './routes/compare.js';
import { deletedRoutes } from './routes/deleted.js';
import { exportRoutes } from './routes/exports.js';
import { healthRoutes } from './routes/health.js';
import { importRoutes } from './routes/imports.js';
import { noteRoutes } from './routes/notes.js';
import { recordingRoutes } from './routes/recordings.js';
import { scenarioRoutes } from './routes/scenarios.js';
import { stationRoutes } from './routes/stations.js';
import { type Scoring, scoringDesk } from './scoringDesk.js';
import { addSockets } from './sockets.js';
import { stationHub } from './stationHub.js';
import type { StationTokens } from './stationTokens.js';
import { answerBroken, answerUnroutable } from './unroutable.js';
import { useZod } from './zodTypes.js';

/**
 * Largest recording taken unless told otherwise: about an hour and a half at 100 samples a second. It is read as a whole,
 * which takes about 1.2 GB of memory and 7 s for one of this size (measured), and for one of ten minutes at 20 Hz 0.1 s.
 */
export const MAX_RECORDING_BYTES = 256 * 1024 * 1024;

export interface AppDeps {
  /** Stays open when the app closes: whoever opened it closes it. */
  readonly store: AttemptStore;
  readonly catalogue: Catalogue;
  readonly scoring: Scoring;
  readonly log: (line: string) => void;
  /** By which bridges on other computers are known; absent: none are. */
  readonly tokens?: StationTokens;
  /** Folder of the built pages; without it there is only the API. */
  readonly webDir?: string;
  /** Largest recording taken; {@link MAX_RECORDING_BYTES} if absent. */
  readonly maxRecordingBytes?: number;
  /** How long a station may take to answer a command. */
  readonly answerWithinMs?: number;
  readonly pingEveryMs?: number;
  /** With slow clients. */
  readonly patience?: Patience;
}

export function buildApp(deps: AppDeps): FastifyInstance {
  const { store, catalogue, scoring, log, webDir, tokens } = deps;
  const app = fastify({
    ...waitingOptions(deps.patience ?? PATIENCE),
    bodyLimit: 64 * 1024,
    routerOptions: { ignoreTrailingSlash: true },
    frameworkErrors: answerUnroutable,
    clientErrorHandler: answerBroken,
  });
  app.removeContentTypeParser('text/plain');
  useZod(app);
  answerErrors(app, log, webDir !== undefined);
  guard(app);

  const feed = liveFeed(() => hub.stations());
  const hub = stationHub(feed.changed, deps.answerWithinMs ?? 5000);
  const desk = scoringDesk({ store, scoring, onScored: feed.scored, log });
  addSockets(app, { hub, feed, tokens, log, pingEveryMs: deps.pingEveryMs ?? 10_000 });

  describeRoutes(app);
  const prefix = '/api';
  app.register(healthRoutes, { prefix, engineRevision: scoring.ENGINE_REVISION });
  app.register(scenarioRoutes, { prefix, catalogue });
  app.register(stationRoutes, { prefix, catalogue, hub });
  app.register(recordingRoutes, {
    prefix,
    store,
    desk,
    maxRecordingBytes: deps.maxRecordingBytes ?? MAX_RECORDING_BYTES,
    tokens,
  });
  app.register(importRoutes, { prefix, store, desk, catalogue });
  app.register(attemptRoutes, { prefix, store, desk, scoring });
  app.register(deletedRoutes, { prefix, store, desk });
  app.register(noteRoutes, { prefix, store });
  app.register(compareRoutes, { prefix, store, engineRevision: scoring.ENGINE_REVISION });
  app.register(exportRoutes, { prefix, store });
  if (webDir !== undefined) servePages(app, webDir);

  app.addHook('onReady', async () => {
    // Received but not scored before the last end, or scored by an engine of another revision.
    for (const id of await store.unscored(scoring.ENGINE_REVISION)) desk.add(id);
  });
  app.addHook('onClose', () => desk.close());
  return app;
}
