// One station: the open link, the attempt under way, and what a person may ask of them.
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import type {
  CloseReason,
  Heard,
  LinkProfile,
  LiveState,
  RecordingHeader,
  Sample,
  StationCommand,
} from '@stillprop/contracts';
import type { ExerciseSetup } from '@stillprop/exercise';
import type { FlownTogether } from '@stillprop/links';
import { Attempt } from './attempt.js';
import { nowS } from './clock.js';
import type { FlownLinks } from './flownLinks.js';
import type { Folders } from './folders.js';
import { Latencies } from './latencies.js';
import { type Link, openLink } from './link.js';
import { liveState } from './liveState.js';
import type { Outbox } from './outbox.js';
import { planAttempt, randomSeed } from './planAttempt.js';
import { Recorder } from './recorder.js';
import { windAtRunway } from './scenarioWind.js';
import type { Answer } from './serverLink.js';
import { saveLink } from './teachIn/saveLink.js';
import { TeachIn } from './teachIn/teachIn.js';

const TICK_MS = 50;
/** While no link is open the first one is tried again this often: its port may have become free. */
const REOPEN_EVERY_MS = 2000;
/** How long arming waits for the first line of the recording to be on the disk. */
const BEGUN_WITHIN_MS = 3000;
/** These end when what they tell of ends; a new attempt does not change it. */
const LASTING_ALARMS: ReadonlySet<string> = new Set(['server', 'token', 'folder']);
/** Alarms of links that are not connected begin so; they too last until the link is. */
const CONNECTION = 'connection of ';
/** Commands that give the power back, the best first. */
const RESTORING = ['restore', 'setPower', 'throttle'] as const;

/** A page that was closed may have left it so. */
const TAUGHT =
  'A link is being taught at this station, so no other is open: press Stop listening on the page Link, or arm.';

export interface StationParts {
  readonly name: string;
  /** Those given at the start. */
  readonly links: FlownLinks;
  /** Where links that are taught are kept; null: nowhere. */
  readonly linksDir: string | null;
  /** The links have changed. */
  readonly onLinks: () => void;
  readonly folders: Folders;
  readonly outbox: Outbox;
  readonly log: (line: string) => void;
}

type Command<Name extends StationCommand['command']> = Extract<StationCommand, { command: Name }>;

export class Station {
  #link: Link | null = null;
  #attempt: Attempt | null = null;
  #newest: Sample | null = null;
  #lastClosed: LiveState['lastClosed'] = null;
  readonly #alarms = new Map<string, string>();
  readonly #latencies = new Map<string, Latencies>();
  readonly #finishing = new Set<Attempt>();
  readonly #timer: NodeJS.Timeout;
  readonly #reopenTimer: NodeJS.Timeout;
  #ended = false;
  /** Those given at the start, and those taught since. */
  #links: FlownLinks;
  readonly #teachIn = new TeachIn((message) => this.parts.log(`teach-in: ${message}`));
  /** Commands that open links go one after the other. */
  #queue: Promise<unknown> = Promise.resolve();

  constructor(private readonly parts: StationParts) {
    this.#links = parts.links;
    this.#timer = setInterval(() => this.#attempt?.give({ kind: 'tick', nowS: nowS() }), TICK_MS);
    this.#reopenTimer = setInterval(() => {
      if (this.#link === null) void this.openFirst();
    }, REOPEN_EVERY_MS);
  }

  /** Opens the first link if none is open, so that the live view shows what the simulator does before anything is armed. */
  openFirst(): Promise<void> {
    return this.#inTurn(async () => {
      const [first] = this.#links.sets;
      if (first === undefined || this.#link !== null || this.#ended || this.#teachIn.listens) return;
      await this.#open(first).catch((error: Error) => this.alarm('link', `Link "${first[0].id}" ${error.message}.`));
    });
  }

  linkProblem(): string | null {
    return this.#link === null ? (this.#alarms.get('link') ?? null) : null;
  }

  /** What a person can choose to fly. */
  offers(): readonly FlownTogether[] {
    return this.#links.sets;
  }

  /** What is heard while a link is taught; null: nothing listens for that. */
  heard(): Heard | null {
    return this.#teachIn.heard();
  }

  live(): LiveState {
    const { name, outbox } = this.parts;
    return liveState({
      station: name,
      link: this.#link,
      attempt: this.#attempt,
      // While an attempt runs it decides which samples count: late ones are dropped there.
      newest: this.#running() ? (this.#attempt?.state.intake.newest ?? null) : this.#newest,
      lastClosed: this.#lastClosed,
      outboxWaiting: outbox.waiting,
      alarms: this.#alarms.values(),
    });
  }

  linkAddress(): Link['address'] | null {
    return this.#link?.address ?? null;
  }

  alarm(about: string, message: string | null): void {
    if (message === null) this.#alarms.delete(about);
    else if (this.#alarms.get(about) !== message) {
      this.#alarms.set(about, message);
      this.parts.log(`alarm: ${message}`);
    }
  }

  /** Does what a person asks. Never rejects: what cannot be done is an answer. */
  async command(command: StationCommand): Promise<Answer> {
    try {
      switch (command.command) {
        case 'arm':
          return await this.#inTurn(() => this.#arm(command));
        case 'begin':
          return await this.#inTurn(() => this.#begin(command));
        case 'reset':
          return this.#reset();
        case 'pause':
          return this.#pause();
        case 'restore':
          if (this.#attempt === null || this.#attempt.over) return this.#restoreUnarmed();
          return this.#say('restore');
        case 'fail-now':
        case 'stop':
          return this.#say(command.command);
        case 'listen':
          return await this.#inTurn(() => this.#listen(command));
        case 'stop-listening':
          return await this.#inTurn(() => this.#stopListening());
        case 'test-command':
          return await this.#testCommand(command);
        case 'read-link': {
          const profile = this.#profile(command.linkId);
          return { ...this.#answer(true, `This is the link "${profile.id}".`), profile };
        }
        case 'save-link':
          return await this.#inTurn(() => this.#save(command.profile));
      }
    } catch (error) {
      return this.#answer(false, `${(error as Error).message}.`);
    }
  }

  async close(withinMs: number): Promise<void> {
    this.#ended = true;
    clearInterval(this.#timer);
    clearInterval(this.#reopenTimer);
    this.#attempt?.interrupt();
    const open = [...this.#finishing];
    const late = setTimeout(() => {
      for (const attempt of open) attempt.giveUp();
    }, withinMs);
    await Promise.all(open.map((attempt) => attempt.finished));
    clearTimeout(late);
    await this.#inTurn(async () => {
      await this.#stopTeaching();
      await this.#link?.close();
      this.#link = null;
    });
  }

  /** While a link is taught no other is open: it may be on the very port on which is listened. */
  async #listen({ transport, profile }: Command<'listen'>): Promise<Answer> {
    if (this.#running()) return this.#answer(false, 'An attempt is under way: stop it first.');
    await this.#link?.close();
    this.#link = null;
    this.#newest = null;
    const where = await this.#teachIn.listen(transport, profile);
    this.alarm('teach-in', TAUGHT);
    this.parts.log(`teach-in ${where}`);
    return this.#answer(true, `The station ${where}.`);
  }

  async #stopListening(): Promise<Answer> {
    await this.#stopTeaching();
    return this.#answer(true, 'No longer listening.');
  }

  async #stopTeaching(): Promise<void> {
    await this.#teachIn.stop();
    this.alarm('teach-in', null);
  }

  async #testCommand({ profile, name }: Command<'test-command'>): Promise<Answer> {
    if (this.#running()) return this.#answer(false, 'An attempt is under way: stop it first.');
    const where = await this.#teachIn.test(profile, name);
    return this.#answer(true, `Sent ${where}. See in your simulator whether it obeyed.`);
  }

  /** A link saved is there for the next attempt; one that is open under the same id is opened anew. */
  async #save(profile: LinkProfile): Promise<Answer> {
    if (this.#running()) return this.#answer(false, 'An attempt is under way: stop it first.');
    const { path, links } = await saveLink(this.parts.linksDir, profile, this.#links.profiles);
    this.#links = links;
    if (this.#link?.profiles.some(({ id }) => id === profile.id)) {
      await this.#link.close();
      this.#link = null;
    }
    this.parts.log(`link ${profile.id} saved as ${path}`);
    this.parts.onLinks();
    return this.#answer(true, `Saved as ${path}. It can be chosen on Fly.`);
  }

  async #arm(command: Command<'arm'>): Promise<Answer> {
    if (this.#running()) return this.#answer(false, 'An attempt is under way: stop it first.');
    // Each would keep its own share of memory for as long as the disk refuses.
    if ([...this.#finishing].some(({ inTrouble }) => inTrouble)) {
      return this.#answer(false, 'The last recording cannot be written to the disk yet: mend that first.');
    }
    const { bundle } = command;
    const link = await this.#open(this.#set(command.linkId));
    link.setWind(windAtRunway(bundle.weather));
    const measured = this.#latencies.get(link.profile.id)?.typical ?? null;
    const { header, setup } = planAttempt(this.parts.name, link.profiles, command, measured);
    for (const about of this.#alarms.keys()) {
      if (!LASTING_ALARMS.has(about) && !about.startsWith(CONNECTION)) this.#alarms.delete(about);
    }
    this.#attempt = this.#newAttempt(header, setup);
    // Whoever hears that an attempt is armed finds its recording, whatever ends the bridge; a disk that hangs is not
    // waited for: the exercise goes on without it, and the alarm tells.
    await Promise.race([this.#attempt.begun, delay(BEGUN_WITHIN_MS, undefined, { ref: false })]);
    this.parts.log(`armed ${header.attemptId}: ${bundle.scenario.id} on link ${link.profile.id}`);
    return this.#say('arm');
  }

  #newAttempt(header: RecordingHeader, setup: ExerciseSetup): Attempt {
    const { recordings, outbox } = this.parts.folders;
    const path = join(recordings, `${header.attemptId}.ndjson`);
    const recorder = new Recorder(path, { onProblem: (message) => this.alarm('disk', message) });
    try {
      return new Attempt(header, setup, recorder, outbox, {
        send: (name, values) => this.#link?.send(name, values),
        onAlarm: (message) => this.alarm('simulator', message),
        onPrompt: (message) => this.alarm('prompt', message),
        onClosed: (attempt, reason, text) => this.#closed(attempt, reason, text),
      });
    } catch (error) {
      void recorder.abandon();
      throw error;
    }
  }

  #closed(attempt: Attempt, reason: CloseReason, text: string): void {
    const { attemptId, link } = attempt.header;
    const { fall } = attempt.state;
    if (fall !== null && fall.latencyS !== null && fall.pace !== null) {
      const latencies = this.#latencies.get(link) ?? new Latencies();
      latencies.add({ latencyS: fall.latencyS, pace: fall.pace });
      this.#latencies.set(link, latencies);
    }
    this.parts.log(`closed ${attemptId}: ${reason}`);
    this.#lastClosed = { attemptId, reason, text };
    this.#finishing.add(attempt);
    void attempt.finished?.then((path) => {
      this.#finishing.delete(attempt);
      if (path !== null) this.parts.outbox.look();
    });
  }

  async #begin(command: Command<'begin'>): Promise<Answer> {
    const set = this.#set(command.linkId);
    const [profile] = set;
    if (this.#running() && this.#link?.profile.id !== profile.id) {
      return this.#answer(false, 'The attempt under way uses another link: stop it first.');
    }
    const pilot = command.pilot ?? profile.pilots?.[0];
    if (pilot === undefined) return this.#answer(false, `Link "${profile.id}" offers no pilots.`);
    if (profile.pilots !== undefined && !profile.pilots.includes(pilot)) {
      return this.#answer(false, `pilot must be one of ${profile.pilots.join(', ')}, got "${pilot}".`);
    }
    const { scenarioId, seed = randomSeed(), speed = 1 } = command;
    const link = await this.#open(set);
    link.send('begin', { scenarioId, pilot, seed, speed });
    this.#attempt?.give({ kind: 'simulator-reset', nowS: nowS() });
    // No answer comes back from a simulator: whether it began shows in its samples.
    return this.#answer(true, `The stand-in was told to begin with pilot ${pilot}.`);
  }

  #reset(): Answer {
    if (this.#link === null) return this.#answer(false, 'No link is open.');
    this.#link.send('reset', {});
    this.#attempt?.give({ kind: 'simulator-reset', nowS: nowS() });
    return this.#answer(true, 'The simulator was asked to reset.');
  }

  /** Where nothing is recorded: the exercise sees a pause in the data by itself. */
  #pause(): Answer {
    if (this.#link === null) return this.#answer(false, 'No link is open.');
    this.#link.send('pause', {});
    return this.#answer(true, 'The simulator was asked to pause, or to go on.');
  }

  #restoreUnarmed(): Answer {
    if (this.#link === null) return this.#answer(false, 'No link is open.');
    const { profile } = this.#link;
    const command = RESTORING.find((name) => profile.commands?.[name] !== undefined) ?? 'restore';
    this.#link.send(command, { powerFraction: 1, throttleFraction: 1, propeller: 'coarse' });
    return this.#answer(true, 'The simulator was asked to restore the power.');
  }

  #say(command: 'arm' | 'fail-now' | 'restore' | 'stop'): Answer {
    const said = this.#attempt?.give({ kind: 'person', command, nowS: nowS() }) ?? null;
    return said === null ? this.#answer(false, 'Nothing is armed.') : this.#answer(said.ok, said.text);
  }

  /** The link led by the first of these, opened in place of another one if need be. */
  async #open(profiles: FlownTogether): Promise<Link> {
    const [{ id }] = profiles;
    if (this.#link?.profile.id === id) return this.#link;
    await this.#stopTeaching();
    await this.#link?.close();
    this.#link = null;
    this.#newest = null;
    for (const about of this.#alarms.keys()) if (about.startsWith(CONNECTION)) this.#alarms.delete(about);
    this.#link = await openLink(profiles, {
      onSample: (sample, receivedS) => {
        this.#newest = sample;
        this.#attempt?.give({ kind: 'sample', sample, receivedS });
      },
      onError: (message, linkId) => this.alarm('link', `Link "${linkId}": ${message}.`),
      onProblem: (message, linkId) =>
        this.alarm(`${CONNECTION}${linkId}`, message === null ? null : `Link "${linkId}" ${message}.`),
      onRefusing: (count, reason) =>
        this.parts.log(
          `link ${id}: ${count === 1 ? 'a datagram is' : `${count} datagrams are`} refused and no sample is read: ${reason}`,
        ),
    });
    this.alarm('link', null);
    for (const [index, where] of this.#link.where.entries()) this.parts.log(`link ${profiles[index]?.id} ${where}`);
    return this.#link;
  }

  #set(id: string): FlownTogether {
    const { sets } = this.#links;
    const set = sets.find(([lead]) => lead.id === id);
    if (set !== undefined) return set;
    throw new RangeError(`linkId must be one of ${sets.map(([lead]) => lead.id).join(', ')}, got "${id}"`);
  }

  #profile(id: string): LinkProfile {
    const { profiles } = this.#links;
    const profile = profiles.find((link) => link.id === id);
    if (profile !== undefined) return profile;
    throw new RangeError(`linkId must be one of ${profiles.map((link) => link.id).join(', ')}, got "${id}"`);
  }

  #running(): boolean {
    return this.#attempt !== null && !this.#attempt.over;
  }

  #answer(ok: boolean, message: string): Answer {
    return { ok, message, attemptId: this.#attempt?.header.attemptId ?? null };
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const result = this.#queue.then(work);
    this.#queue = result.catch(() => undefined); // the caller gets the error; the next command goes on
    return result;
  }
}
