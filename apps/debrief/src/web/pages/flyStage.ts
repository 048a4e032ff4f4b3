// What the Fly page can show and offer, from the live feed: pure, so that every state can be tested.
import type { BridgeHello, ExerciseStateName, LiveState, Station } from '@stillprop/contracts';
import type { LiveFeedState } from '../liveFeed.js';

export type FlyStage =
  | { readonly stage: 'connecting' }
  | { readonly stage: 'unreachable' }
  | { readonly stage: 'no-station' }
  | { readonly stage: 'no-link'; readonly station: Station }
  /** Nothing is armed: choose and go. */
  | { readonly stage: 'ready'; readonly station: Station; readonly links: readonly FlyLink[] }
  | { readonly stage: 'flying'; readonly station: Station; readonly live: LiveState; readonly link: FlyLink | null };

export type FlyLink = BridgeHello['links'][number];

const ACTIVE: readonly ExerciseStateName[] = ['armed', 'climbing', 'firing', 'watching', 'disobeyed'];

/** @param chosen Name of the station looked at; the first connected one when it is null or gone. */
export function flyStage({ connection, stations }: LiveFeedState, chosen: string | null): FlyStage {
  if (connection === 'lost') return { stage: 'unreachable' };
  if (connection === 'connecting') return { stage: 'connecting' };
  const connected = stations.filter((station) => station.connected);
  const station = connected.find((one) => one.station === chosen) ?? connected[0];
  if (!station) return { stage: 'no-station' };
  const links = station.hello?.links ?? [];
  const { live } = station;
  if (live && ACTIVE.includes(live.exercise.state)) {
    return { stage: 'flying', station, live, link: links.find(({ id }) => id === live.link.profileId) ?? null };
  }
  if (links.length === 0) return { stage: 'no-link', station };
  return { stage: 'ready', station, links };
}

/** Buttons that make sense now. A link without the command does not offer it. */
export function flyButtons(
  state: ExerciseStateName,
  link: Pick<FlyLink, 'commands' | 'failureMeans'> | null,
): { readonly failNow: boolean; readonly restore: boolean; readonly pause: boolean; readonly stop: boolean } {
  const can = (command: FlyLink['commands'][number]) => link?.commands.includes(command) ?? false;
  const otherMeans = link?.failureMeans !== undefined; // the throttle, or the instructor's hand on it
  return {
    failNow: state === 'climbing' && (can('fail') || can('setPower') || otherMeans),
    restore:
      (state === 'firing' || state === 'watching' || state === 'disobeyed') &&
      (can('restore') || can('setPower') || otherMeans),
    pause: ACTIVE.includes(state) && can('pause'),
    stop: ACTIVE.includes(state),
  };
}

export const FLY_STEPS = ['Armed', 'Climbing', 'Power cut', 'Watching'] as const;

/** Which of the steps an exercise is at; -1: none. */
export function flyStep(state: ExerciseStateName): number {
  return { idle: -1, armed: 0, climbing: 1, firing: 2, disobeyed: 2, watching: 3, closed: -1 }[state];
}
