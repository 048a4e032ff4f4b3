// Teaching a link at a station: listening on a port, telling what is heard, and trying commands out.
import type { Heard, LinkCommandName, LinkProfile } from '@stillprop/contracts';
import { type CommandValues, encodeCommand, type Shape } from '@stillprop/links';
import { nowS } from '../clock.js';
import { addressOf } from '../transports/addresses.js';
import { createHearing, type Hearing } from './hearing.js';
import { type OpenTeachInSource, openTeachInUdp, type TeachInPlace, type TeachInSource } from './teachInUdp.js';

/** What a command is tried with: the failure itself, and the throttle closed. */
const TRIED_WITH: CommandValues = {
  powerFraction: 0,
  throttleFraction: 0,
  propeller: 'coarse',
  scenarioId: 'none',
  pilot: 'none',
  seed: 1,
  speed: 1,
};

export class TeachIn {
  #open: { readonly source: TeachInSource; readonly hearing: Hearing } | null = null;

  constructor(
    private readonly onError: (message: string) => void,
    private readonly openSource: OpenTeachInSource = openTeachInUdp,
  ) {}

  get listens(): boolean {
    return this.#open !== null;
  }

  /** What is heard; null: it does not listen. */
  heard(): Heard | null {
    if (this.#open === null) return null;
    const { source, hearing } = this.#open;
    return hearing.heard({ host: source.host, port: source.port }, nowS());
  }

  /** Listens there, in place of where it listened before. @throws {Error} If that cannot be opened. */
  async listen(place: TeachInPlace, profile?: LinkProfile): Promise<void> {
    await this.stop();
    const hearing = createHearing(profile === undefined ? null : shapeOf(profile));
    const source = await this.openSource(place, { onMessage: hearing.give, onError: this.onError });
    this.#open = { source, hearing };
  }

  async stop(): Promise<void> {
    const open = this.#open;
    this.#open = null;
    await open?.source.close();
  }

  /** Sends one command as it would be sent. @throws {RangeError} If the profile has none, or not where to. */
  async test(profile: LinkProfile, name: LinkCommandName): Promise<{ readonly host: string; readonly port: number }> {
    const bytes = encodeCommand(profile, name, TRIED_WITH);
    const { host = '127.0.0.1', port } = profile.commands ?? {};
    if (port === undefined)
      throw new RangeError('commands.port is missing: it must be the port on which the simulator listens');
    if (this.#open === null) throw new RangeError('nothing listens: press Listen first, then test a command');
    this.#open.source.send(bytes, await addressOf(host), port);
    return { host, port };
  }
}

/** Reads by the profile's own decoder where a guess could not name the slots as it does; null: a guess names them so. */
function shapeOf({ decoder, channels }: LinkProfile): Shape | null {
  const words = 'what the link describes';
  if (decoder.kind === 'delimited' && decoder.columns !== undefined) return { words, decoder, slots: decoder.columns };
  if (decoder.kind !== 'binary') return null;
  const slots = new Set(Object.values(channels).flatMap((source) => (source === undefined ? [] : [source.slot])));
  return { words, decoder, slots: [...new Set([...decoder.fields.map(({ name }) => name), ...slots])] };
}
