// What is heard on a port while a link is taught: counts, rate, the newest message, the guessed shape and its slots.
import { type Heard, type LinkTransport, MOST_SLOTS } from '@stillprop/contracts';
import { createSlotWatch, readableText, type Shape } from '@stillprop/links';

const RATE_OVER_S = 2;
const MOST_SENDERS = 64;
const SHOWN_CHARACTERS = 400;
const SHOWN_BYTES = 128;

export interface Hearing {
  give(bytes: Uint8Array, sender: string, receivedS: number): void;
  /** @param problem What keeps messages from coming in; null: nothing known. */
  heard(transport: LinkTransport, problem: string | null, nowS: number): Heard;
}

/** @param known The shape of a profile that is changed; null: it is guessed. */
export function createHearing(known: Shape | null = null): Hearing {
  const watch = createSlotWatch(known);
  const senders = new Set<string>();
  let received = 0;
  let newest: { readonly bytes: Uint8Array; readonly sender: string; readonly atS: number } | null = null;
  /** Times of arrival within the last seconds. */
  let recent: number[] = [];

  return {
    give: (bytes, sender, receivedS) => {
      received += 1;
      newest = { bytes, sender, atS: receivedS };
      if (senders.size < MOST_SENDERS) senders.add(sender);
      recent.push(receivedS);
      if (recent.length > 1000) recent = recent.filter((atS) => receivedS - atS <= RATE_OVER_S);
      watch.give(bytes, receivedS);
    },
    heard: (transport, problem, nowS) => {
      recent = recent.filter((atS) => nowS - atS <= RATE_OVER_S);
      const shape = watch.shape();
      const text = newest === null ? null : readableText(newest.bytes);
      return {
        transport,
        problem,
        received,
        rateHz: rateOf(recent),
        sender: newest?.sender ?? null,
        senders: senders.size,
        quietS: newest === null ? null : Math.round(10 * Math.max(0, nowS - newest.atS)) / 10,
        newest: text?.slice(0, SHOWN_CHARACTERS) ?? (newest === null ? '' : hexOf(newest.bytes)),
        isText: text !== null,
        lengthBytes: newest?.bytes.length ?? 0,
        shape: words(received, shape),
        decoder: shape?.decoder ?? null,
        slots: watch.slots().slice(0, MOST_SLOTS),
      };
    },
  };
}

/** Of intervals, not of counts: the first seconds would show too few otherwise. */
function rateOf(timesS: readonly number[]): number {
  const [first, last] = [timesS[0], timesS.at(-1)];
  if (first === undefined || last === undefined || last <= first) return 0;
  return Math.round((10 * (timesS.length - 1)) / (last - first)) / 10;
}

function words(received: number, shape: Shape | null): string {
  if (received === 0) return 'Nothing came yet.';
  if (shape === null) return 'No shape was found in it yet.';
  return `It looks like ${shape.words}.`;
}

function hexOf(bytes: Uint8Array): string {
  const shown = [...bytes.subarray(0, SHOWN_BYTES)].map((byte) => byte.toString(16).padStart(2, '0')).join(' ');
  return bytes.length > SHOWN_BYTES ? `${shown} …` : shown;
}
