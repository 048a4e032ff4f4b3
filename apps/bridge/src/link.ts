// One open link, or several as one: messages to samples, counters, and commands back to the simulator.
import type { LinkCommandName, LinkProfile, LinkWind, LiveState, Sample } from '@stillprop/contracts';
import {
  type Circumstances,
  type CommandValues,
  createDecoder,
  createMerger,
  createPartDecoder,
  type DecodeFault,
  encodeCommand,
  type FlownTogether,
} from '@stillprop/links';
import { nowS } from './clock.js';
import { type CommandWay, openCommandWay } from './commandWay.js';
import { LinkTraffic } from './linkTraffic.js';
import { oneSender } from './oneSender.js';
import { type RefusalCode, refusalWords } from './refusalWords.js';
import { openTransport } from './transports/openTransport.js';
import type { Transport } from './transports/transport.js';

export interface Link {
  /** The profile that leads, and all that are flown together with it, this one first. */
  readonly profile: LinkProfile;
  readonly profiles: FlownTogether;
  /** Of the one that leads: where it listens (the port as bound), or where it connects to. */
  readonly address: Transport['address'];
  /** Of each, as `listens on …` or `connects to …`. */
  readonly where: readonly string[];
  /**
   * Sends a command of the leading profile. @throws {RangeError} If it has no such command, or a value is unfit.
   * @throws {Error} If there is no way to the simulator now.
   */
  send(name: LinkCommandName, values: CommandValues): void;
  /** The wind for channels calculated with the scenario's; null: unknown, and they are missing. */
  setWind(wind: LinkWind | null): void;
  status(): LiveState['link'];
  close(): Promise<void>;
}

export interface LinkListener {
  onSample(sample: Sample, receivedS: number): void;
  /** Something went wrong once with the link named. */
  onError(message: string, linkId: string): void;
  /** What keeps the link named from working now, in words that follow its name; null: it is over. */
  onProblem?(message: string | null, linkId: string): void;
  /** Messages arrive and none is read; told at the first and at each tenfold count. */
  onRefusing?(count: number, reason: string): void;
}

/** A message, and when it came (steady clock). */
type Reader = (bytes: Uint8Array, receivedS: number) => void;

/**
 * Opens the links flown together, the one that leads first (`linkSet` gathers them).
 *
 * @throws {Error} If one cannot be opened, or they cannot be flown; with words that follow the leading link's name.
 */
export async function openLink(profiles: FlownTogether, listener: LinkListener): Promise<Link> {
  const [lead] = profiles;
  const traffic = new LinkTraffic((count, reason) => listener.onRefusing?.(count, reason));
  let wind: LinkWind | null = null;
  const circumstances: Circumstances = {
    get wind() {
      return wind;
    },
  };
  const readers =
    profiles.length === 1
      ? [wholeReader(lead, circumstances, traffic, listener)]
      : partReaders(profiles, circumstances, traffic, listener);

  const open: Transport[] = [];
  let way: CommandWay | null = null;
  const close = async () => {
    for (const transport of open) await transport.close();
    await way?.close();
  };
  try {
    for (const [index, profile] of profiles.entries()) {
      const of = index === 0 ? '' : ` (${profile.id})`;
      const read = readers[index] as Reader;
      const isFollowed = oneSender(profile);
      const transport = await openTransport(profile.transport, {
        onMessage: (bytes, sender) => {
          traffic.messageCame();
          const receivedS = nowS();
          if (isFollowed(sender, receivedS)) read(bytes, receivedS);
          else traffic.refuseWhole(`other-sender${of}`, refusalWords('other-sender', sender));
        },
        onRefused: (code, about) => traffic.refuseWhole(`${code}${of}`, refusalWords(code, about)),
        onProblem: (message) => listener.onProblem?.(message, profile.id),
        onError: (message) => listener.onError(message, profile.id),
      }).catch((error: Error) => {
        throw index === 0 ? error : new Error(`needs link "${profile.id}", which ${error.message}`, { cause: error });
      });
      open.push(transport);
    }
    way = await openCommandWay(lead, open[0] as Transport, (message) => listener.onError(message, lead.id));
  } catch (error) {
    await close();
    throw error;
  }
  const sender = way;
  return {
    profile: lead,
    profiles,
    address: (open[0] as Transport).address,
    where: open.map(({ where }) => where),
    send: (name, values) => {
      const bytes = encodeCommand(lead, name, values);
      sender.send(bytes, typeof lead.commands?.[name] === 'string' ? 'text' : 'bytes');
    },
    setWind: (now) => {
      wind = now;
    },
    status: () => traffic.status(lead.id),
    close,
  };
}

/** A link by itself: its messages hold whole samples. */
function wholeReader(
  profile: LinkProfile,
  circumstances: Circumstances,
  traffic: LinkTraffic,
  listener: LinkListener,
): Reader {
  const decode = createDecoder(profile, circumstances);
  return (bytes, receivedS) => {
    const decoded = decode(bytes, receivedS);
    if (!decoded.ok) return refuse(traffic, decoded, '');
    for (const fault of decoded.faults) traffic.refuse(named(fault));
    for (const sample of decoded.samples) {
      traffic.sampleCame(receivedS);
      listener.onSample(sample, receivedS);
    }
  };
}

/** Links flown together: each gives a part, and the merger makes samples in step with the first. */
function partReaders(
  profiles: readonly LinkProfile[],
  circumstances: Circumstances,
  traffic: LinkTraffic,
  listener: LinkListener,
): Reader[] {
  const merger = createMerger(profiles);
  return profiles.map((profile, index) => {
    const decode = createPartDecoder(profile, circumstances);
    const of = index === 0 ? '' : ` (${profile.id})`;
    return (bytes, receivedS) => {
      const decoded = decode(bytes, receivedS);
      if (!decoded.ok) return refuse(traffic, decoded, of);
      for (const fault of decoded.faults) traffic.refuse(`${named(fault)}${of}`);
      for (const part of decoded.samples) {
        const merged = merger.give(index, part, receivedS);
        if (merged.kind === 'sample') {
          traffic.sampleCame(receivedS);
          listener.onSample(merged.sample, receivedS);
        } else if (merged.kind === 'lacking') {
          const [channel] = merged.channels;
          traffic.refuseWhole(`lacking ${channel}`, refusalWords('lacking', channel));
        }
      }
    };
  });
}

function refuse(traffic: LinkTraffic, fault: DecodeFault, of: string): void {
  traffic.refuseWhole(`${named(fault)}${of}`, refusalWords(fault.code, fault.channel));
}

function named({ code, channel }: { readonly code: RefusalCode; readonly channel?: string }): string {
  return channel === undefined ? code : `${code} ${channel}`;
}
