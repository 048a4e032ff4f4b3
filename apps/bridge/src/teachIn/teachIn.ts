// Teaching a link at a station: listening on a port, telling what is heard, and trying commands out.
import type { Heard, LinkCommandName, LinkProfile, LinkTransport } from '@stillprop/contracts';
import { type CommandValues, encodeCommand, type Shape } from '@stillprop/links';
import { nowS } from '../clock.js';
import { type CommandWay, openCommandWay } from '../commandWay.js';
import { type Ear, openEar } from './ear.js';
import { createHearing, type Hearing } from './hearing.js';

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
  #way: CommandWay | null = null;
  #open: { readonly ear: Ear; readonly hearing: Hearing } | null = null;

  constructor(private readonly onError: (message: string) => void) {}

  get listens(): boolean {
    return this.#open !== null;
  }

  /** What is heard; null: it does not listen. */
  heard(): Heard | null {
    if (this.#open === null) return null;
    const { ear, hearing } = this.#open;
    return hearing.heard(ear.heardOn, ear.problem(), nowS());
  }

  /** Listens there, in place of where it listened before. @returns Where, in words. @throws {Error} If that cannot be opened. */
  async listen(transport: LinkTransport, profile?: LinkProfile): Promise<string> {
    await this.stop();
    const hearing = createHearing(profile === undefined ? null : shapeOf(profile));
    const ear = await openEar(transport, { onMessage: hearing.give, onError: this.onError });
    this.#open = { ear, hearing };
    return ear.transport.where;
  }

  async stop(): Promise<void> {
    const open = this.#open;
    this.#open = null;
    await this.#way?.close();
    this.#way = null;
    await open?.ear.transport.close();
  }

  /**
   * Sends one command as it would be sent.
   *
   * @returns Where to, in words. @throws {RangeError} If the profile has none, or not where to.
   * @throws {Error} If there is no way to the simulator now.
   */
  async test(profile: LinkProfile, name: LinkCommandName): Promise<string> {
    const bytes = encodeCommand(profile, name, TRIED_WITH);
    if (this.#open === null) throw new RangeError('nothing listens: press Listen first, then test a command');
    const { transport } = this.#open.ear;
    const { host, port } = profile.commands ?? {};
    if (port === undefined && transport.sendTo !== undefined) {
      throw new RangeError('commands.port is missing: it must be the port on which the simulator listens');
    }
    await this.#way?.close();
    // It stays open: what is sent last may still be on its way out.
    this.#way = await openCommandWay(profile, transport, this.onError);
    this.#way.send(bytes, typeof profile.commands?.[name] === 'string' ? 'text' : 'bytes');
    return port === undefined ? 'over the connection on which it speaks' : `to ${host} port ${port}`;
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
