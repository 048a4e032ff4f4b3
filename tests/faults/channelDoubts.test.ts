// The exercise beside the stand-in's real turns, stalls and landings: a right stream is never doubted, a wrong unit is.
import { PILOTS, StandInFlight, TICK_S } from '@stillprop/bench';
import type { RecordedEvent, Sample } from '@stillprop/contracts';
import { advance, type ExerciseInput, startExercise } from '@stillprop/exercise';
import { expect, test } from 'vitest';
import { shelfBundle } from '../support/flownRecording.js';

const RAD = Math.PI / 180;
const TICKS_PER_SAMPLE = 5; // 20 Hz

/** One attempt with the exercise in the loop. `told` is what the link makes of a sample. */
function attempt(pilot: string, scenarioId: string, told: (sample: Sample) => Sample): RecordedEvent[] {
  const bundle = shelfBundle(scenarioId);
  const flight = new StandInFlight(bundle);
  const { failure } = bundle.scenario;
  const heightFt = 900;
  let state = startExercise({
    ...bundle,
    drawn: { kind: 'total', heightFt, powerFraction: 0, propeller: failure.propeller },
    seed: 1,
    commands: ['fail', 'setPower', 'restore'],
    expectedRateHz: 20,
    commandLatencyS: 0.02,
  });
  const events: RecordedEvent[] = [];
  const give = (input: ExerciseInput) => {
    const step = advance(state, input);
    state = step.state;
    for (const action of step.actions) {
      if (action.kind === 'record-event') events.push(action.event);
      if (action.kind === 'send') flight.obey({ word: 'FAIL', propeller: failure.propeller });
    }
  };
  give({ kind: 'person', command: 'arm', nowS: 0 });
  flight.begin(bundle, pilot, 7, 1);
  for (let tick = 0; tick < 400 / TICK_S && state.name !== 'closed'; tick += 1) {
    flight.tick();
    if (tick % TICKS_PER_SAMPLE === 0)
      give({ kind: 'sample', sample: told(flight.sample()), receivedS: tick * TICK_S });
  }
  return events;
}
const faults = (events: readonly RecordedEvent[]) =>
  events.filter(({ code }) => code === 'data-fault').map(({ text }) => text);

test.each(Object.keys(PILOTS))('nothing is amiss in the flight of the pilot "%s"', (pilot) => {
  const events = attempt(pilot, 'first-turn-back', (sample) => sample);
  expect(faults(events)).toEqual([]);
  expect(events.map(({ code }) => code)).toEqual([
    'armed',
    'lift-off',
    'fail-commanded',
    'power-fell',
    'contact',
    'closed',
  ]);
  expect(Math.abs((events.find(({ code }) => code === 'power-fell')?.figures?.heightFt ?? 0) - 900)).toBeLessThan(5);
});

test.each([
  ['bank in radians', (s: Sample) => ({ ...s, bankDeg: s.bankDeg * RAD }), /^Bank tells .* radians/],
  ['bank of the other sign', (s: Sample) => ({ ...s, bankDeg: -s.bankDeg }), /^Bank tells .* other sign/],
  [
    'airspeed in m/s',
    (s: Sample) => ({ ...s, indicatedAirspeedKt: s.indicatedAirspeedKt * 0.5144 }),
    /^Airspeed tells .* m\/s/,
  ],
  [
    'groundspeed in km/h',
    (s: Sample) => ({ ...s, groundspeedKt: (s.groundspeedKt ?? 0) * 1.852 }),
    /^Groundspeed tells .* km\/h/,
  ],
  ['heading in radians', (s: Sample) => ({ ...s, headingDeg: s.headingDeg * RAD }), /^Heading tells .* radians/],
  [
    'altitude in metres',
    (s: Sample) => ({ ...s, altitudeFt: s.altitudeFt * 0.3048 }),
    /altitude seems to be in metres/,
  ],
])('%s is named in the turn back of the pilot "prompt"', (_, told, text) => {
  expect(faults(attempt('prompt', 'first-turn-back', told))).toContainEqual(expect.stringMatching(text));
});
