// Datagrams to samples, as a link profile describes them. No byte sequence makes a decoder throw.
import type { LinkProfile, Sample } from '@stillprop/contracts';
import { delimitedRows } from './delimitedRows.js';
import { jsonRows } from './jsonRows.js';
import { linkProfileProblem } from './profileProblem.js';
import { sampleFromRow } from './sampleFromRow.js';
import type { ChannelName } from './slotUnits.js';

/**
 * Why bytes were refused: `empty` no bytes; `not-text` no UTF-8; `not-json` no JSON object in a line; `no-sample` no line
 * that this profile reads; `missing-channel` a required channel absent; `not-a-number` a channel that is no number;
 * `out-of-range` a channel beyond its bounds.
 */
export type DecodeCode =
  | 'empty'
  | 'not-text'
  | 'not-json'
  | 'no-sample'
  | 'missing-channel'
  | 'not-a-number'
  | 'out-of-range';

export interface DecodeFault {
  readonly code: DecodeCode;
  readonly channel?: ChannelName;
}

export type Decoded =
  | {
      readonly ok: true;
      /** In the order of the lines; at least one. */
      readonly samples: Sample[];
      /** Lines refused beside the good ones, and optional channels left out because they could not be right. */
      readonly faults: readonly DecodeFault[];
    }
  | ({ readonly ok: false } & DecodeFault);

/** One line, cut up: the raw value of a slot, or undefined where the line has none. */
export type Row = (slot: string | number) => unknown;
/** A datagram's text as rows; a row that could not be cut up is its code. */
export type RowReader = (text: string) => (Row | DecodeCode)[];

/**
 * A decoder for one link. A datagram may hold several lines; an unreadable line does not spoil the others.
 * Optional channels that are absent stay absent; one that cannot be right is left out and named in `faults`.
 *
 * @throws {RangeError} If the profile cannot work ({@link linkProfileProblem} says why); never on bytes.
 */
export function createDecoder(profile: LinkProfile): (datagram: Uint8Array) => Decoded {
  const problem = linkProfileProblem(profile);
  if (problem !== null) throw new RangeError(`link "${profile.id}": ${problem.message}`);
  const rowsOf = profile.decoder.kind === 'json' ? jsonRows : delimitedRows(profile.decoder);
  const toSample = sampleFromRow(profile);
  const utf8 = new TextDecoder('utf-8', { fatal: true });

  return (datagram) => {
    if (datagram.length === 0) return { ok: false, code: 'empty' };
    let text: string;
    try {
      text = utf8.decode(datagram);
    } catch {
      return { ok: false, code: 'not-text' };
    }
    const samples: Sample[] = [];
    const faults: DecodeFault[] = [];
    for (const row of rowsOf(text)) {
      if (typeof row === 'string') {
        faults.push({ code: row });
        continue;
      }
      const sample = toSample(row, faults);
      if (sample !== null) samples.push(sample);
    }
    return samples.length > 0 ? { ok: true, samples, faults } : { ok: false, ...(faults[0] ?? { code: 'no-sample' }) };
  };
}
