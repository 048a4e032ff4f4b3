// What happens to recordings on the way: pauses told in three ways, stretches lost, bounces, circuits flown before.
import type { RecordedEvent, Recording, Sample } from '@stillprop/contracts';

/** How a pause of the simulator shows: data that repeats, time that stands still, or a step in the clock. */
export type PauseKind = 'repeated' | 'frozen' | 'jump';
export const PAUSE_KINDS: readonly PauseKind[] = ['repeated', 'frozen', 'jump'];

/** The recording as it comes when the simulator is paused at a time. */
export function paused(recording: Recording, kind: PauseKind, atS: number, lastsS: number): Recording {
  const before = recording.samples.filter(({ timeS }) => timeS <= atS);
  const after = recording.samples.filter(({ timeS }) => timeS > atS);
  const held = before.at(-1);
  if (held === undefined) throw new Error('nothing before the pause');
  const stepS = held.timeS - (before.at(-2)?.timeS ?? 0);
  const copies = Math.round(lastsS / stepS) - 1;
  const between = Array.from({ length: kind === 'jump' ? 0 : copies }, (_, k): Sample => {
    return kind === 'frozen' ? held : { ...held, timeS: held.timeS + (k + 1) * stepS };
  });
  const byS = kind === 'frozen' ? 0 : lastsS;
  return {
    ...recording,
    samples: [...before, ...between, ...after.map((sample) => ({ ...sample, timeS: sample.timeS + byS }))],
    events: recording.events.map((event) => later(event, event.timeS !== null && event.timeS > atS ? byS : 0)),
    end: recording.end === null ? null : { ...recording.end, timeS: (recording.end.timeS ?? 0) + byS },
  };
}

/** Without the samples from a time on, for a time. */
export function dropped(recording: Recording, fromS: number, lastsS: number): Recording {
  return {
    ...recording,
    samples: recording.samples.filter(({ timeS }) => timeS < fromS || timeS > fromS + lastsS),
  };
}

/** Without some channels. */
export function lacking(recording: Recording, ...keys: (keyof Sample)[]): Recording {
  return {
    ...recording,
    samples: recording.samples.map((sample) => {
      const copy: Partial<Sample> = { ...sample };
      for (const key of keys) delete copy[key];
      return copy as Sample;
    }),
  };
}

/** Comes down, is thrown up and comes down for good after a time. */
export function bounced(recording: Recording, contactS: number, lastsS: number, upFt: number): Recording {
  return {
    ...recording,
    samples: recording.samples.map((sample) => {
      const after = sample.timeS - contactS - 0.5;
      if (after <= 0 || after >= lastsS) return sample;
      const heightFt = upFt * Math.sin((after / lastsS) * Math.PI);
      return { ...sample, onGround: false, heightFt, altitudeFt: sample.altitudeFt + heightFt };
    }),
  };
}

/**
 * A later flight after an earlier one, as one recording: the earlier up to `endsS`, then `betweenS` of a way that leads
 * on smoothly to the later one, which is joined at `fromS` of its own time.
 */
export function oneAfterTheOther(
  earlier: Recording,
  endsS: number,
  second: Recording,
  fromS: number,
  betweenS: number,
): { recording: Recording; laterByS: number } {
  const kept = earlier.samples.filter(({ timeS }) => timeS <= endsS);
  const joined = second.samples.filter(({ timeS }) => timeS >= fromS);
  const [last, next] = [kept.at(-1), joined[0]];
  if (last === undefined || next === undefined) throw new Error('nothing to join');
  const laterByS = last.timeS + betweenS - next.timeS;
  const stepS = (kept[1]?.timeS ?? 0) - (kept[0]?.timeS ?? 0);
  const count = Math.round(betweenS / stepS) - 1;
  const way = Array.from({ length: count }, (_, k) => between(last, next, (k + 1) / (count + 1), betweenS));
  const told = (events: readonly RecordedEvent[], from: number, to: number) =>
    events.filter(({ timeS }) => timeS !== null && timeS >= from && timeS <= to);
  return {
    laterByS,
    recording: {
      ...second,
      samples: [...kept, ...way, ...joined.map((sample) => ({ ...sample, timeS: sample.timeS + laterByS }))],
      events: [
        ...told(earlier.events, 0, endsS),
        ...told(second.events, fromS, Number.POSITIVE_INFINITY).map((event) => later(event, laterByS)),
      ],
      end: second.end === null ? null : { ...second.end, timeS: (second.end.timeS ?? 0) + laterByS },
    },
  };
}

function between(last: Sample, next: Sample, share: number, betweenS: number): Sample {
  const mixed: Record<string, unknown> = { ...last, timeS: last.timeS + share * betweenS, onGround: last.onGround };
  for (const [channel, to] of Object.entries(next)) {
    const from = last[channel as keyof Sample];
    if (channel !== 'timeS' && typeof from === 'number' && typeof to === 'number')
      mixed[channel] = from + share * (to - from);
  }
  return mixed as Sample;
}

function later(event: RecordedEvent, byS: number): RecordedEvent {
  return event.timeS === null ? event : { ...event, timeS: event.timeS + byS };
}
