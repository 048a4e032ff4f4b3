// A whole attempt over every wire format, by the ready profiles: armed, failed, flown and scored, as when nothing lies between.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { StandInFlight, TICK_S } from '@stillprop/bench';
import {
  LinkProfile,
  RECORDING_FORMAT,
  RECORDING_VERSION,
  type RecordedEvent,
  type Recording,
  type Sample,
  type Score,
} from '@stillprop/contracts';
import { advance, type ExerciseInput, startExercise } from '@stillprop/exercise';
import { createDecoder, createMerger, createPartDecoder, derivedChannels } from '@stillprop/links';
import { scoreRecording } from '@stillprop/scoring';
import { expect, test } from 'vitest';
import { ROOT } from '../support/command.js';
import { shelfBundle } from '../support/flownRecording.js';
import { entityState, gdl90, headed, mavlink, nmea, rows, type Sender, standIn } from './senders.js';

const RATE_HZ = 20;
const DRAWN_FT = 900;
const CALM = { fromTrueDeg: 0, speedKt: 0 };
const shelf = shelfBundle('first-turn-back');
/** In calm air, so that speeds calculated from the ground are those through the air. */
const bundle = { ...shelf, weather: { ...shelf.weather, winds: [] } };

function profileOf(id: string): LinkProfile {
  return LinkProfile.parse(JSON.parse(readFileSync(join(ROOT, 'fixtures/links', `${id}.json`), 'utf8')));
}

/** Samples that come of one sample sent. */
type Wire = (sample: Sample) => Sample[];
interface Line {
  readonly profiles: readonly LinkProfile[];
  readonly wire: Wire;
}

function alone(id: string, senderOf: (profile: LinkProfile) => Sender): Line {
  const profile = profileOf(id);
  const send = senderOf(profile);
  const decode = createDecoder(profile, { wind: CALM });
  const wire: Wire = (sample) =>
    send(sample).flatMap((bytes) => {
      const decoded = decode(bytes, sample.timeS);
      if (decoded.ok) return decoded.samples;
      if (decoded.code === 'kept' || decoded.code === 'not-derived') return [];
      throw new Error(`${id}: ${decoded.code} ${decoded.channel ?? ''}`);
    });
  return { profiles: [profile], wire };
}

/** With the second link that supplies attitude. */
function supplied(id: string, send: Sender): Line {
  const profiles = [profileOf(id), profileOf('example-second-link')];
  const senders = [send, rows(profiles[1] as LinkProfile)];
  const decoders = profiles.map((profile) => createPartDecoder(profile, { wind: CALM }));
  const merger = createMerger(profiles);
  const wire: Wire = (sample) =>
    [1, 0].flatMap((link) =>
      (senders[link]?.(sample) ?? []).flatMap((bytes) => {
        const decoded = decoders[link]?.(bytes, sample.timeS);
        if (decoded === undefined || !decoded.ok) return [];
        return decoded.samples.flatMap((part) => {
          const merged = merger.give(link, part, sample.timeS);
          return merged.kind === 'sample' ? [merged.sample] : [];
        });
      }),
    );
  return { profiles, wire };
}

interface Played {
  readonly score: Score;
  readonly fired: number;
  /** By the clock of the flight itself. */
  readonly firedAtS: number;
}

/** Flies the stand-in with the exercise on the other end of the wire, and scores what was recorded. */
function played({ profiles, wire }: Line): Played {
  const flight = new StandInFlight(bundle);
  flight.begin(bundle, 'prompt', 7, 1);
  const drawn = { kind: 'total', heightFt: DRAWN_FT, powerFraction: 0, propeller: 'coarse' } as const;
  let state = startExercise({
    ...bundle,
    drawn,
    seed: 1,
    commands: ['fail', 'restore'],
    expectedRateHz: RATE_HZ,
    commandLatencyS: 0,
  });
  const samples: Sample[] = [];
  const events: RecordedEvent[] = [];
  let end: Recording['end'] = null;
  let fired = 0;
  let firedAtS = Number.NaN;
  const give = (input: ExerciseInput) => {
    const step = advance(state, input);
    state = step.state;
    for (const action of step.actions) {
      if (action.kind === 'record-sample') samples.push(action.sample);
      if (action.kind === 'record-event') events.push(action.event);
      if (action.kind === 'send') {
        if (action.purpose === 'fire') {
          fired += 1;
          firedAtS = flight.sample().timeS;
        }
        flight.obey({ word: 'FAIL', propeller: 'coarse' });
      }
      if (action.kind === 'close') {
        const { timeS, reason, text } = action;
        end = { kind: 'end', timeS, reason, text, samples: samples.length };
      }
    }
  };
  const ticksPerSample = Math.round(1 / RATE_HZ / TICK_S);
  give({ kind: 'person', command: 'arm', nowS: 0 });
  for (let tick = 0; tick < 400 / TICK_S && end === null; tick += 1) {
    flight.tick();
    if (tick % ticksPerSample !== 0) continue;
    const sent = flight.sample();
    for (const sample of wire(sent)) give({ kind: 'sample', sample, receivedS: sent.timeS });
    give({ kind: 'tick', nowS: sent.timeS });
  }
  const [lead] = profiles;
  const derived = derivedChannels(profiles);
  const header: Recording['header'] = {
    kind: 'header',
    format: RECORDING_FORMAT,
    version: RECORDING_VERSION,
    attemptId: '7f1f2f57-2c3d-4a55-9c11-000000000002',
    startedAt: '2026-01-31T09:30:00Z',
    station: 'test',
    student: null,
    ...bundle,
    drawn,
    link: lead?.id ?? 'none',
    ...(derived.length > 0 ? { derived } : {}),
    ...(lead?.timeSource === 'arrival' ? { timeSource: 'arrival' } : {}),
  };
  return { score: scoreRecording({ header, samples, events, end }), fired, firedAtS };
}

const direct = played({ profiles: [], wire: (sample) => [sample] });

/** How far a figure may be off, for what the wire does not tell; s, degrees, kt, ft, points of the total. */
interface Tolerance {
  readonly delay: number;
  readonly bank: number;
  readonly airspeed: number;
  readonly touchdown: number;
  readonly overall: number;
}
/** Everything is sent: what is left is the rounding of the text. */
const ALL: Tolerance = { delay: 0.05, bank: 0.1, airspeed: 0.1, touchdown: 2, overall: 0.2 };
/** Touching the ground is told from height and speed: some tenths of a second of the flare, at 80 kt some 130 ft/s. */
const NO_GROUND: Tolerance = { ...ALL, touchdown: 80, overall: 2 };
/** The fall of power is told from climb and speed, half a second late, which shortens the delay by as much. */
const NO_ENGINE: Tolerance = { ...NO_GROUND, delay: 0.6 };
/** Airspeed is calculated from groundspeed, whose steps are 1 kt in the coarsest of these formats. */
const FROM_GROUND: Tolerance = { ...NO_ENGINE, airspeed: 1 };

const FLIGHTS: readonly [string, Tolerance, () => Line][] = [
  ['stand-in-text', ALL, () => alone('stand-in-text', () => (sample) => [standIn.text(sample)])],
  ['stand-in-json', ALL, () => alone('stand-in-json', () => (sample) => [standIn.json(sample)])],
  ['example-key-value', ALL, () => alone('example-key-value', rows)],
  ['example-header-line', NO_GROUND, () => alone('example-header-line', headed)],
  ['example-binary-records', NO_GROUND, () => alone('example-binary-records', rows)],
  ['example-tcp-lines', FROM_GROUND, () => supplied('example-tcp-lines', rows(profileOf('example-tcp-lines')))],
  ['standard-entity-state', FROM_GROUND, () => alone('standard-entity-state', () => entityState)],
  ['standard-mavlink-2', NO_ENGINE, () => alone('standard-mavlink-2', mavlink)],
  ['standard-gdl90', FROM_GROUND, () => supplied('standard-gdl90', gdl90)],
  ['standard-nmea-0183', FROM_GROUND, () => supplied('standard-nmea-0183', nmea)],
];

test.each(FLIGHTS)(
  '%s: the failure comes once at its height, and the score is that of the samples themselves',
  (_, off, lineOf) => {
    const { criteria, overall } = direct.score;
    expect(overall).toBeGreaterThan(90);
    const over = played(lineOf());
    expect(over.fired).toBe(1);
    expect(Math.abs(over.firedAtS - direct.firedAtS)).toBeLessThanOrEqual(1 / RATE_HZ + 1e-6);
    for (const name of ['delay', 'bank', 'airspeed', 'touchdown'] as const) {
      const [here, there] = [over.score.criteria[name].measured, criteria[name].measured];
      expect(here, name).not.toBeNull();
      expect(Math.abs((here ?? Number.NaN) - (there ?? Number.NaN)), name).toBeLessThanOrEqual(off[name]);
    }
    expect(Math.abs((over.score.overall ?? Number.NaN) - (overall ?? Number.NaN))).toBeLessThanOrEqual(off.overall);
  },
);

test('every ready link profile is flown here', () => {
  // The second link supplies four of them.
  const ready = readdirSync(join(ROOT, 'fixtures/links')).map((name) => name.replace(/\.json$/, ''));
  expect(ready.sort()).toEqual([...FLIGHTS.map(([name]) => name), 'example-second-link'].sort());
});
