// One open link: datagrams to samples, counters, and commands back to the simulator.
import type { LinkCommandName, LinkProfile, LiveState, Sample } from '@stillprop/contracts';
import { type CommandValues, createDecoder, type DecodeCode, encodeCommand } from '@stillprop/links';
import { nowS } from './clock.js';
import { refusalWords } from './refusalWords.js';
import { addressOf, openUdpSource, type SourceRefusal } from './udpSource.js';

const STALE_S = 1;
const RATE_WINDOW_S = 1;
/** For so long after the last refused datagram they count as arriving. */
const REFUSING_S = 5;

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
  /** Datagrams arrive and none is read; told at the first and at each tenfold count. */
  onRefusing?(count: number, reason: string): void;
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
  /** Datagrams refused since the last sample. */
  let refusing: { count: number; readonly reason: string } | null = null;
  let refusedS = Number.NEGATIVE_INFINITY;
  const refuseWhole = (code: DecodeCode | SourceRefusal, about?: string) => {
    refusing ??= { count: 0, reason: refusalWords(code, about) };
    refusing.count += 1;
    refusedS = nowS();
    // One bad datagram among good ones is only counted.
    if (state() !== 'receiving' && Number.isInteger(Math.log10(refusing.count))) {
      listener.onRefusing?.(refusing.count, refusing.reason);
    }
  };
  const state = () => (heardS === null ? 'silent' : nowS() - heardS > STALE_S ? 'stale' : 'receiving');
  let received = 0;
  let samples = 0;
  let heardS: number | null = null;
  let mark = { atS: nowS(), samples: 0 };
  let rateHz = 0;

  if (profile.transport.kind !== 'udp') {
    throw new Error(`cannot be opened: transport.kind must be "udp", got "${profile.transport.kind}"`);
  }
  const source = await openUdpSource(profile.transport, {
    onDatagram: (bytes) => {
      const receivedS = nowS();
      received += 1;
      const decoded = decode(bytes, receivedS);
      if (!decoded.ok && decoded.code === 'kept') return; // one part of several that make a sample
      if (!decoded.ok) {
        refuse(named(decoded));
        refuseWhole(decoded.code, decoded.channel);
        return;
      }
      for (const fault of decoded.faults) refuse(named(fault));
      heardS = receivedS;
      refusing = null;
      samples += decoded.samples.length;
      for (const sample of decoded.samples) listener.onSample(sample, receivedS);
    },
    onRefused: (code, sender) => {
      refuse(code);
      refuseWhole(code, sender);
    },
    onError: listener.onError,
  });

  return {
    profile,
    address: { host: source.host, port: source.port },
    send: (name, values) => {
      const bytes = encodeCommand(profile, name, values);
      if (commands?.port !== undefined && commandAddress !== null) source.send(bytes, commandAddress, commands.port);
    },
    status: () => {
      const now = nowS();
      if (now - mark.atS >= RATE_WINDOW_S) {
        rateHz = Math.round((10 * (samples - mark.samples)) / (now - mark.atS)) / 10;
        mark = { atS: now, samples };
      }
      const told = { profileId: profile.id, state: state(), rateHz, received, refused: { ...refused } } as const;
      const quiet = told.state === 'receiving' || now - refusedS > REFUSING_S;
      return quiet || refusing === null ? told : { ...told, refusing: { ...refusing } };
    },
    close: source.close,
  };
}

function named({ code, channel }: { readonly code: string; readonly channel?: string }): string {
  return channel === undefined ? code : `${code} ${channel}`;
}
