// What a station shows at this moment, put together from link, attempt and newest sample.
import { isPlaced, type LiveState, type RecordingHeader, type Sample, toRunwayFrame } from '@stillprop/contracts';
import { describe, heightOf } from '@stillprop/exercise';
import type { Attempt } from './attempt.js';
import type { Link } from './link.js';

export interface LiveParts {
  readonly station: string;
  readonly link: Link | null;
  /** The attempt under way, or the one that closed last. */
  readonly attempt: Attempt | null;
  readonly newest: Sample | null;
  readonly lastClosed: LiveState['lastClosed'];
  readonly outboxWaiting: number;
  readonly alarms: Iterable<string>;
}

const NO_LINK: LiveState['link'] = { profileId: null, state: 'closed', rateHz: 0, received: 0, refused: {} };

export function liveState(parts: LiveParts): LiveState {
  const { attempt, newest, link } = parts;
  const header = attempt?.header ?? null;
  const status = link?.status() ?? NO_LINK;
  const alarm = [...parts.alarms].join(' ');
  return {
    station: parts.station,
    link: status,
    exercise: exerciseOf(attempt, status),
    attemptId: header?.attemptId ?? null,
    scenarioId: header?.scenario.id ?? null,
    timeS: newest?.timeS ?? null,
    heightFt: newest === null ? null : shownHeightFt(attempt, newest),
    indicatedAirspeedKt: newest?.indicatedAirspeedKt ?? null,
    bankDeg: newest?.bankDeg ?? null,
    verticalSpeedFpm: newest?.verticalSpeedFpm ?? null,
    powerFraction: newest?.powerFraction ?? null,
    ...placeOf(header, newest),
    lastClosed: parts.lastClosed,
    outboxWaiting: parts.outboxWaiting,
    alarm: alarm === '' ? null : alarm,
  };
}

function exerciseOf(attempt: Attempt | null, link: LiveState['link']): LiveState['exercise'] {
  if (attempt !== null)
    return { state: attempt.state.name, ...describe(attempt.state), ...refusingWords(attempt, link) };
  if (link.state === 'closed') return { state: 'idle', text: 'No link is open.', next: 'Choose a link and arm.' };
  return { state: 'idle', text: 'Nothing is armed.', next: 'Choose a scenario and arm before the take-off.' };
}

/** Where no data come, whether they are refused: the exercise itself knows nothing of what is not read. */
function refusingWords({ over, state }: Attempt, { refusing }: LiveState['link']) {
  const { newest, silent } = state.intake;
  if (refusing === undefined || over || (newest !== null && !silent)) return {};
  return {
    text: 'Data arrive, but every datagram is refused.',
    next: `Refused: ${refusing.count}. The first: ${refusing.reason}.`,
  };
}

/** As the attempt counts it. Before anything was armed there is no runway to count from: then only the simulator's own height will do. */
function shownHeightFt(attempt: Attempt | null, sample: Sample): number | null {
  return attempt === null ? (sample.heightFt ?? null) : heightOf(attempt.state, sample);
}

function placeOf(header: RecordingHeader | null, sample: Sample | null): Pick<LiveState, 'alongFt' | 'acrossFt'> {
  if (header === null || sample === null || !isPlaced(header.runway)) return { alongFt: null, acrossFt: null };
  return toRunwayFrame(header.runway, sample.latitudeDeg, sample.longitudeDeg);
}
