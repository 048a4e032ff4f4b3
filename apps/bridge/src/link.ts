// One open link: datagrams to samples, counters, and commands back to the simulator.
import type { LinkCommandName, LinkProfile, LiveState, Sample } from '@stillprop/contracts';
import { type CommandValues, createDecoder, encodeCommand } from '@stillprop/links';
import { nowS } from './clock.js';
import { addressOf, openUdpSource } from './udpSource.js';

const STALE_S = 1;
const RATE_WINDOW_S = 1;

export interface Link {
  readonly profile: LinkProfile;
  /** Where it listens: the port as bound. */
  readonly address: { readonly host: string; readonly port: number };
  /** @throws {RangeError} If the profile has no such command, or a value is unfit. */
  send(name: LinkCommandName, values: CommandValues): void;
  status(): LiveState['link'];
  close(): Promise<void>;
}

export interface LinkListener {
  onSample(sample: Sample, receivedS: number): void;
  onError(message: string): void;
}

/** Opens a link. @throws {Error} If its address cannot be bound or its profile cannot work. */
export async function openLink(profile: LinkProfile, listener: LinkListener): Promise<Link> {
  const decode = createDecoder(profile);
  const { commands } = profile;
  const commandAddress = commands === undefined ? null : await addressOf(commands.host);
  const refused: Record<string, number> = {};
  const refuse = (code: string) => {
    refused[code] = (refused[code] ?? 0) + 1;
  };
  let received = 0;
  let samples = 0;
  let heardS: number | null = null;
  let mark = { atS: nowS(), samples: 0 };
  let rateHz = 0;

  const source = await openUdpSource(profile.transport, {
    onDatagram: (bytes) => {
      const receivedS = nowS();
      received += 1;
      const decoded = decode(bytes);
      if (!decoded.ok) {
        refuse(named(decoded));
        return;
      }
      for (const fault of decoded.faults) refuse(named(fault));
      heardS = receivedS;
      samples += decoded.samples.length;
      for (const sample of decoded.samples) listener.onSample(sample, receivedS);
    },
    onRefused: refuse,
    onError: listener.onError,
  });

  return {
    profile,
    address: { host: source.host, port: source.port },
    send: (name, values) => {
      const bytes = encodeCommand(profile, name, values);
      if (commands !== undefined && commandAddress !== null) source.send(bytes, commandAddress, commands.port);
    },
    status: () => {
      const now = nowS();
      if (now - mark.atS >= RATE_WINDOW_S) {
        rateHz = Math.round((10 * (samples - mark.samples)) / (now - mark.atS)) / 10;
        mark = { atS: now, samples };
      }
      const state = heardS === null ? 'silent' : now - heardS > STALE_S ? 'stale' : 'receiving';
      return { profileId: profile.id, state, rateHz, received, refused: { ...refused } };
    },
    close: source.close,
  };
}

function named({ code, channel }: { readonly code: string; readonly channel?: string }): string {
  return channel === undefined ? code : `${code} ${channel}`;
}
