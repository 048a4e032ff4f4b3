// Messages to samples, as a link profile describes them. No byte sequence makes a decoder throw.
import { type LinkProfile, REQUIRED_CHANNELS, type Sample } from '@stillprop/contracts';
import { type Circumstances, createDeriver } from './derive.js';
import { partFromRow, type SamplePart } from './partFromRow.js';
import { linkPartProblem, linkProfileProblem } from './profileProblem.js';
import { readerOf } from './readers.js';
import type { ChannelName } from './slotUnits.js';

/**
 * Why bytes were refused: `empty` no bytes; `not-text` no UTF-8; `not-json` no JSON object in a line; `no-header` no line
 * with the names of the columns came yet; `no-sample` nothing that this profile reads; `damaged` broken off, or a check sum that does not fit; `kept`
 * no fault: what it told is kept for the samples to come; `missing-channel` a required
 * channel absent; `not-derived` a required channel that cannot be calculated yet; `not-a-number` a channel that is no
 * number; `out-of-range` a channel beyond its bounds.
 */
export type DecodeCode =
  | 'empty'
  | 'not-text'
  | 'not-json'
  | 'no-header'
  | 'no-sample'
  | 'damaged'
  | 'kept'
  | 'missing-channel'
  | 'not-derived'
  | 'not-a-number'
  | 'out-of-range';

export interface DecodeFault {
  readonly code: DecodeCode;
  readonly channel?: ChannelName;
}

const REQUIRED: ReadonlySet<string | undefined> = new Set(REQUIRED_CHANNELS);

/** What a message gave: at least one whole sample (or part of one), or why not. */
export type DecodedAs<T> =
  | {
      readonly ok: true;
      /** In the order of the lines; at least one. */
      readonly samples: T[];
      /** Lines refused beside the good ones, and optional channels left out because they could not be right. */
      readonly faults: readonly DecodeFault[];
    }
  | ({ readonly ok: false } & DecodeFault);
export type Decoded = DecodedAs<Sample>;
export type DecodedPart = DecodedAs<SamplePart>;

/**
 * A decoder for one link that gives every required channel. A message may hold several lines; an unreadable line does not
 * spoil the others. Optional channels that are absent stay absent; one that cannot be right is left out and named in
 * `faults`. It remembers what came before: one decoder serves one stream.
 *
 * @returns A function of a message and the seconds of a steady clock when it came, from 0; these are needed where the
 *   profile's time source is `arrival` only. Of several lines that came at once, such a link's newest is taken.
 * @throws {RangeError} If the profile cannot work alone ({@link linkProfileProblem} says why); never on bytes.
 */
export function createDecoder(
  profile: LinkProfile,
  circumstances: Circumstances = {},
): (message: Uint8Array, arrivalTimeS?: number) => Decoded {
  const problem = linkProfileProblem({ ...profile, merge: undefined, supplement: undefined });
  if (problem !== null) throw new RangeError(`link "${profile.id}": ${problem.message}`);
  const decode = createPartDecoder(profile, circumstances);
  const derived = new Set<string>(profile.derived?.map(({ channel }) => channel));

  return (message, arrivalTimeS) => {
    const parts = decode(message, arrivalTimeS);
    if (!parts.ok) return parts;
    if (allWhole(parts)) return parts;
    const samples: Sample[] = [];
    const faults = [...parts.faults];
    for (const part of parts.samples) {
      const missing = REQUIRED_CHANNELS.find((channel) => part[channel] === undefined);
      if (missing === undefined) samples.push(part as Sample);
      else if (!faults.some(({ channel }) => channel === missing)) {
        faults.push({ code: derived.has(missing) ? 'not-derived' : 'missing-channel', channel: missing });
      }
    }
    if (samples.length > 0) return { ok: true, samples, faults };
    return {
      ok: false,
      ...(faults.find(({ channel }) => REQUIRED.has(channel)) ?? faults[0] ?? { code: 'no-sample' }),
    };
  };
}

function allWhole(parts: DecodedPart): parts is Decoded {
  return parts.ok && parts.samples.every(isWhole);
}

/** Has every one of REQUIRED_CHANNELS; by fixed names, for it is asked of each sample that comes. */
function isWhole(part: SamplePart): part is Sample {
  return (
    part.timeS !== undefined &&
    part.latitudeDeg !== undefined &&
    part.longitudeDeg !== undefined &&
    part.altitudeFt !== undefined &&
    part.indicatedAirspeedKt !== undefined &&
    part.headingDeg !== undefined &&
    part.bankDeg !== undefined &&
    part.pitchDeg !== undefined &&
    part.verticalSpeedFpm !== undefined
  );
}

/**
 * A decoder for one of several links: as {@link createDecoder}, but every channel may be missing.
 *
 * @throws {RangeError} If the profile cannot work ({@link linkPartProblem} says why); never on bytes.
 */
export function createPartDecoder(
  profile: LinkProfile,
  circumstances: Circumstances = {},
): (message: Uint8Array, arrivalTimeS?: number) => DecodedPart {
  const problem = linkPartProblem(profile);
  if (problem !== null) throw new RangeError(`link "${profile.id}": ${problem.message}`);
  const { toPart, slots } = partFromRow(profile);
  const rowsOf = readerOf(profile.decoder, slots);
  const derive = createDeriver(profile, circumstances);
  const byArrival = profile.timeSource === 'arrival';

  return (message, arrivalTimeS = Number.NaN) => {
    if (message.length === 0) return { ok: false, code: 'empty' };
    const faults: DecodeFault[] = [];
    const samples: SamplePart[] = [];
    const rows = rowsOf(message, arrivalTimeS);
    for (let index = 0; index < rows.length; index += 1) {
      const row = rows[index];
      if (row === undefined || typeof row === 'string') {
        faults.push({ code: row ?? 'no-sample' });
        continue;
      }
      if (byArrival && index < rows.length - 1) continue;
      const part = toPart(row, arrivalTimeS, faults);
      derive?.(part, arrivalTimeS, faults);
      samples.push(part);
    }
    return samples.length > 0 ? { ok: true, samples, faults } : { ok: false, ...(faults[0] ?? { code: 'no-sample' }) };
  };
}
