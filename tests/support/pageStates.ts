// A quick server with attempts of every kind, and every state that a page can be in, put together without a flight.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserMessage, LiveState, Station } from '@stillprop/contracts';
import { startDebrief } from '@stillprop/debrief';
import type { Page } from 'playwright-core';
import { ROOT } from './command.js';
import { flownRecordingText } from './flownRecording.js';
import { sendRecording } from './sendRecording.js';

const ids = (last: number) => `7f1f2f57-2c3d-4a55-9c11-00000000000${last}`;
export const ATTEMPTS = {
  whole: ids(1),
  aborted: ids(2),
  brokeOff: ids(3),
  halfMeasured: ids(4),
  imported: ids(5),
  empty: ids(6),
} as const;
export const NO_ATTEMPT = ids(9);

type Line = Record<string, unknown>;
/** The recording with its lines changed: `null` leaves one out. */
export function changed(
  text: string,
  id: string,
  header: Line,
  change: (line: Line) => Line | null = (line) => line,
): string {
  const [first, ...rest] = text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as Line);
  const kept = rest.map(change).filter((line) => line !== null);
  return [{ ...first, attemptId: id, ...header }, ...kept].map((line) => `${JSON.stringify(line)}\n`).join('');
}

const OPTIONAL = [
  'heightFt',
  'trueAirspeedKt',
  'groundspeedKt',
  'trackDeg',
  'loadFactor',
  'engineRpm',
  'powerFraction',
  'gearFraction',
  'flapFraction',
  'onGround',
  'stallWarning',
];

function recordings(): string[] {
  const text = flownRecordingText({ pilot: 'hesitant', heightFt: 950, rateHz: 10 });
  const isSample = (line: Line) => line.kind === 'sample';
  const climb = (line: Line) =>
    line.kind === 'event' ? null : isSample(line) && (line.timeS as number) > 25 ? null : line;
  return [
    changed(text, ATTEMPTS.whole, { student: 'Ada Finch' }),
    changed(text, ATTEMPTS.aborted, { student: 'Ada Finch', startedAt: '2026-02-01T09:30:00Z' }, (line) =>
      line.kind === 'end'
        ? { ...line, timeS: 25, reason: 'instructor', text: 'Stopped by the instructor.' }
        : climb(line),
    ),
    changed(text, ATTEMPTS.brokeOff, { student: 'Bo Lark', startedAt: '2026-02-02T09:30:00Z' }, (line) =>
      line.kind === 'end' || (line.timeS as number) > 60 ? null : line,
    ),
    changed(text, ATTEMPTS.halfMeasured, { student: 'Bo Lark', startedAt: '2026-02-03T09:30:00Z' }, (line) =>
      isSample(line) ? Object.fromEntries(Object.entries(line).filter(([name]) => !OPTIONAL.includes(name))) : line,
    ),
    changed(text, ATTEMPTS.empty, { student: 'Bo Lark', startedAt: '2026-02-05T09:30:00Z' }, () => null),
    changed(
      text,
      ATTEMPTS.imported,
      {
        startedAt: '2026-02-04T09:30:00Z',
        imported: {
          format: 'gpx',
          lossFrom: 'climb-end',
          unmeasured: ['indicatedAirspeedKt', 'bankDeg', 'pitchDeg', 'verticalSpeedFpm'],
          notes: ['It does not hold the airspeed: groundspeed is not airspeed, so no speed and no stall is marked.'],
        },
      },
      (line) =>
        isSample(line) ? Object.fromEntries(Object.entries(line).filter(([name]) => !OPTIONAL.includes(name))) : line,
    ),
  ];
}

export async function serverWithAttempts() {
  const dataDir = await mkdtemp(join(tmpdir(), 'stillprop-states-'));
  const options = { dataDir, catalogueDirs: [join(ROOT, 'fixtures')], log: () => undefined };
  let running = await startDebrief({ ...options, port: 0 });
  const { url, port } = running;
  for (const text of recordings()) await sendRecording(url, text);
  return {
    url,
    stop: () => running.close(),
    async start() {
      running = await startDebrief({ ...options, port });
    },
    async close() {
      await running.close();
      await rm(dataDir, { recursive: true });
    },
  };
}

const LINK = {
  id: 'stand-in-text',
  name: 'Stand-in simulator, text',
  description: 'The simulator that comes with Stillprop.',
  commands: ['fail' as const, 'restore' as const, 'pause' as const],
  pilots: ['prompt', 'hesitant'],
  missing: ['pitchDeg'],
  notes: ['Vertical speed is calculated from the altitude, and lags by half a second.'],
};

function live(state: LiveState['exercise']['state'], more: Partial<LiveState> = {}): LiveState {
  return {
    station: 'desk',
    link: { profileId: LINK.id, state: 'receiving', rateHz: 20, received: 400, refused: {} },
    exercise: { state, text: 'Climbing through 640 ft.', next: 'Climb straight ahead at 92 kt.' },
    attemptId: state === 'idle' ? null : NO_ATTEMPT,
    scenarioId: 'first-turn-back',
    timeS: 12,
    heightFt: 640,
    indicatedAirspeedKt: 92,
    bankDeg: 1,
    verticalSpeedFpm: 1100,
    powerFraction: 1,
    alongFt: 5000,
    acrossFt: 12,
    lastClosed: null,
    outboxWaiting: 0,
    alarm: null,
    ...more,
  };
}

function station(own: LiveState | null, links: (typeof LINK)[] = [LINK]): Station {
  return { station: 'desk', connected: true, hello: { type: 'hello', station: 'desk', links }, live: own };
}

/** The live feed shows this picture and no other. */
async function feed(page: Page, stations: readonly Station[]): Promise<void> {
  const message: BrowserMessage = { type: 'stations', stations: [...stations] };
  await page.routeWebSocket('**/ws/live', (socket) => socket.send(JSON.stringify(message)));
}

export interface PageState {
  readonly name: string;
  readonly path: string;
  /** Before the page is opened. */
  readonly before?: (page: Page) => Promise<unknown>;
  /** The page is in this state when it shows this. */
  readonly shows: string;
}

const answers = (page: Page, what: string | RegExp, status: number, body: object) =>
  page.route(what, (route) => route.fulfill({ status, contentType: 'application/json', body: JSON.stringify(body) }));
const fault = (page: Page, what: string | RegExp) =>
  answers(page, what, 500, { code: 'SERVER_FAULT', message: 'the server failed on this request; its log says why' });
const silent = (page: Page, what: string | RegExp) => page.route(what, () => undefined);
const unreachable = (page: Page, what: string | RegExp) => page.route(what, (route) => route.abort());

const LIST = /\/api\/attempts\?/;
const ONE = /\/api\/attempts\/[^?]+/;
const COMPARE = /\/api\/compare/;
const attempt = (name: keyof typeof ATTEMPTS) => `/debrief/${ATTEMPTS[name]}`;

export const PAGE_STATES: readonly PageState[] = [
  { name: 'list', path: '/debrief', shows: '[data-testid=attempts]' },
  {
    name: 'list-empty',
    path: '/debrief',
    before: (page) => answers(page, LIST, 200, { attempts: [], total: 0, next: null }),
    shows: '[data-testid=no-attempts]',
  },
  { name: 'list-loading', path: '/debrief', before: (page) => silent(page, LIST), shows: 'attempts-page .loading' },
  {
    name: 'list-fault',
    path: '/debrief',
    before: (page) => fault(page, LIST),
    shows: 'text=The server failed on this request; its log says why.',
  },
  {
    name: 'list-unreachable',
    path: '/debrief',
    before: (page) => unreachable(page, LIST),
    shows: '[data-testid=failure]',
  },
  { name: 'attempt', path: attempt('whole'), shows: 'time-charts canvas >> nth=-1' },
  {
    name: 'attempt-loading',
    path: attempt('whole'),
    before: (page) => silent(page, ONE),
    shows: 'attempt-page .loading',
  },
  { name: 'attempt-fault', path: attempt('whole'), before: (page) => fault(page, ONE), shows: '[data-testid=failure]' },
  {
    name: 'attempt-unreachable',
    path: attempt('whole'),
    before: (page) => unreachable(page, ONE),
    shows: '[data-testid=failure]',
  },
  { name: 'attempt-missing', path: `/debrief/${NO_ATTEMPT}`, shows: '[data-testid=missing-attempt]' },
  { name: 'attempt-no-id', path: '/debrief/nonsense', shows: 'attempt-page h1' },
  {
    name: 'attempt-not-scored',
    path: attempt('whole'),
    before: (page) =>
      answers(page, ONE, 422, {
        code: 'NOT_SCORED',
        message: 'the recording is kept, but it could not be scored: there is no lift-off in it',
      }),
    shows: '[data-testid=failure]',
  },
  { name: 'attempt-aborted', path: attempt('aborted'), shows: 'time-charts canvas >> nth=-1' },
  { name: 'attempt-broke-off', path: attempt('brokeOff'), shows: '[data-testid=broke-off]' },
  { name: 'attempt-half-measured', path: attempt('halfMeasured'), shows: 'time-charts canvas >> nth=-1' },
  { name: 'attempt-empty', path: attempt('empty'), shows: '[data-testid=broke-off]' },
  { name: 'attempt-imported', path: attempt('imported'), shows: '[data-testid=imported]' },
  { name: 'compare', path: '/compare', shows: '[data-testid=students]' },
  { name: 'compare-student', path: '/compare?student=Ada+Finch', shows: '[data-testid=student-attempts]' },
  {
    name: 'compare-empty',
    path: '/compare',
    before: (page) => answers(page, COMPARE, 200, []),
    shows: '[data-testid=nothing-to-compare]',
  },
  { name: 'compare-fault', path: '/compare', before: (page) => fault(page, COMPARE), shows: '[data-testid=failure]' },
  {
    name: 'fly-connecting',
    path: '/fly',
    before: (page) => page.routeWebSocket('**/ws/live', () => undefined),
    shows: 'fly-page',
  },
  {
    name: 'fly-unreachable',
    path: '/fly',
    before: (page) => page.routeWebSocket('**/ws/live', (socket) => socket.close()),
    shows: '[data-testid=fly-unreachable]',
  },
  { name: 'fly-no-station', path: '/fly', shows: '[data-testid=fly-no-station]' },
  {
    name: 'fly-no-link',
    path: '/fly',
    before: (page) => feed(page, [station(live('idle'), [])]),
    shows: '[data-testid=fly-no-link]',
  },
  {
    name: 'fly-ready',
    path: '/fly',
    before: (page) => feed(page, [station(live('idle', { alarm: 'The link has fallen silent.' }))]),
    shows: '[data-testid=scenario-first-turn-back]',
  },
  {
    name: 'fly-scenarios-fault',
    path: '/fly',
    before: async (page) => {
      await feed(page, [station(live('idle'))]);
      await fault(page, '**/api/scenarios');
    },
    shows: '[data-testid=failure]',
  },
  {
    name: 'fly-flying',
    path: '/fly',
    before: (page) => feed(page, [station(live('climbing'))]),
    shows: '[data-testid=exercise-text]',
  },
  { name: 'link-no-station', path: '/link', shows: '[data-testid=link-no-station]' },
  { name: 'link', path: '/link', before: (page) => feed(page, [station(live('idle'))]), shows: '[data-testid=listen]' },
  { name: 'unknown', path: '/nonsense', shows: 'unknown-page h1' },
];
