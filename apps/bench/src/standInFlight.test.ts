// Flies each scripted pilot without sockets and holds what comes out against what the pilot is.
import {
  bundleOf,
  isPlaced,
  type PlacedRunway,
  Sample,
  type ScenarioBundle,
  toRunwayFrame,
} from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { PILOTS } from './habits.js';
import { readShelf } from './shelfFiles.js';
import { StandInFlight, TICK_S } from './standInFlight.js';

const shelf = readShelf([new URL('../../../fixtures', import.meta.url).pathname]);

function bundleFor(id: string): ScenarioBundle & { runway: PlacedRunway } {
  const bundle = bundleOf(shelf, id);
  if (!bundle.ok || !isPlaced(bundle.value.runway)) throw new Error(id);
  return { ...bundle.value, runway: bundle.value.runway };
}

interface Flown {
  readonly samples: readonly Sample[];
  readonly failedAtS: number;
  readonly acrossFt: readonly number[];
  readonly alongFt: readonly number[];
}

function fly(
  pilot: string,
  { scenarioId = 'first-turn-back', heightFt = 900, seed = 7, command = 'FAIL' } = {},
): Flown {
  const bundle = bundleFor(scenarioId);
  const flight = new StandInFlight(bundle);
  flight.begin(bundle, pilot, seed, 1);
  const samples: Sample[] = [];
  let failedAtS = Number.NaN;
  for (let tick = 0; tick < 400 / TICK_S; tick += 1) {
    flight.tick();
    if (tick % 5 !== 0) continue;
    const sample = flight.sample();
    samples.push(sample);
    if (Number.isNaN(failedAtS) && (sample.heightFt ?? 0) >= heightFt) {
      failedAtS = sample.timeS;
      const { propeller } = bundle.scenario.failure;
      flight.obey(command === 'FAIL' ? { word: 'FAIL', propeller } : { word: 'POWER', fraction: 0.4, propeller });
    }
    if (failedAtS > 0 && sample.onGround && sample.groundspeedKt === 0 && sample.timeS > failedAtS + 5) break;
  }
  const places = samples.map((sample) => toRunwayFrame(bundle.runway, sample.latitudeDeg, sample.longitudeDeg));
  return {
    samples,
    failedAtS,
    acrossFt: places.map((place) => place.acrossFt),
    alongFt: places.map((place) => place.alongFt),
  };
}

const after = ({ samples, failedAtS }: Flown) => samples.filter((sample) => sample.timeS > failedAtS);
const contactIndex = ({ samples, failedAtS }: Flown) =>
  samples.findIndex((one) => one.timeS > failedAtS && one.onGround);
const steepestBank = (flown: Flown) => Math.max(...after(flown).map((sample) => Math.abs(sample.bankDeg)));

test.each(Object.keys(PILOTS))(
  '%s sends samples that the contract accepts, in time order, from the runway to a stop',
  (pilot) => {
    const flown = fly(pilot);
    for (const sample of flown.samples) expect(Sample.safeParse(sample).error?.issues ?? []).toEqual([]);
    for (const [index, sample] of flown.samples.entries()) {
      if (index > 0) expect(sample.timeS).toBeGreaterThan(flown.samples[index - 1]?.timeS ?? Number.NaN);
    }
    expect(flown.samples[0]?.onGround).toBe(true);
    expect(flown.samples.at(-1)).toMatchObject({ onGround: true, groundspeedKt: 0 });
  },
);

test('prompt turns back and stops on the runway, on bank and on speed', () => {
  const flown = fly('prompt');
  const runway = bundleFor('first-turn-back').runway;
  const contact = contactIndex(flown);
  expect(flown.alongFt[contact]).toBeGreaterThan(0);
  expect(flown.alongFt[contact]).toBeLessThan(runway.lengthFt);
  expect(Math.abs(flown.acrossFt[contact] ?? 999)).toBeLessThan(runway.widthFt / 2);
  expect(flown.alongFt.at(-1)).toBeGreaterThan(0);
  expect(steepestBank(flown)).toBeGreaterThan(42);
  expect(steepestBank(flown)).toBeLessThan(49);
  expect(after(flown).some((sample) => sample.stallWarning)).toBe(false);
});

test('hesitant does nothing for six seconds', () => {
  const flown = fly('hesitant');
  const rolled = after(flown).find((sample) => Math.abs(sample.bankDeg) > 5)?.timeS ?? 0;
  expect(rolled - flown.failedAtS).toBeGreaterThan(5.8);
  expect(rolled - flown.failedAtS).toBeLessThan(6.6);
});

test('shallow never banks more than about 30 degrees', () => {
  expect(steepestBank(fly('shallow'))).toBeLessThan(32);
  expect(steepestBank(fly('shallow'))).toBeGreaterThan(26);
});

test('overbanked stalls the wing', () => {
  const flown = fly('overbanked');
  expect(steepestBank(flown)).toBeGreaterThan(55);
  const warned = after(flown).filter((sample) => sample.stallWarning);
  expect(warned.length).toBeGreaterThan(10);
});

test('lands-ahead touches down beyond the runway with the wings level', () => {
  const flown = fly('lands-ahead');
  const contact = contactIndex(flown);
  expect(flown.alongFt[contact]).toBeGreaterThan(bundleFor('first-turn-back').runway.lengthFt);
  expect(Math.abs(flown.samples[contact]?.bankDeg ?? 90)).toBeLessThan(5);
});

test('never-reacts never rolls and never pushes', () => {
  const flown = fly('never-reacts');
  const contact = contactIndex(flown);
  const inTheAir = flown.samples.slice(0, contact).filter((sample) => sample.timeS > flown.failedAtS);
  expect(Math.max(...inTheAir.map((sample) => Math.abs(sample.bankDeg)))).toBeLessThan(3);
});

test('partial power falls to what was asked, and restored power comes back', () => {
  const flown = fly('prompt', { command: 'POWER' });
  const settled = after(flown).filter(
    (sample) => sample.timeS > flown.failedAtS + 2.1 && sample.timeS < flown.failedAtS + 2.6,
  );
  expect(settled.length).toBeGreaterThan(5);
  for (const sample of settled) expect(sample.powerFraction).toBeCloseTo(0.4, 1);

  const bundle = bundleFor('first-turn-back');
  const flight = new StandInFlight(bundle);
  flight.begin(bundle, 'prompt', 1, 1);
  const until = (done: (sample: Sample) => boolean) => {
    for (let tick = 0; tick < 20_000 && !done(flight.sample()); tick += 1) flight.tick();
  };
  until((sample) => (sample.heightFt ?? 0) > 600);
  flight.obey({ word: 'FAIL', propeller: 'coarse' });
  until((sample) => (sample.powerFraction ?? 1) < 0.05);
  flight.obey({ word: 'RESTORE' });
  until((sample) => (sample.heightFt ?? 0) > 1200);
  expect(flight.sample()).toMatchObject({ onGround: false, stallWarning: false });
  expect(flight.sample().powerFraction).toBeGreaterThan(0.99);
});

test('reset puts it back on the runway, parked, with the clock running on', () => {
  const bundle = bundleFor('first-turn-back');
  const flight = new StandInFlight(bundle);
  flight.begin(bundle, 'prompt', 1, 1);
  for (let tick = 0; tick < 4000; tick += 1) flight.tick();
  const before = flight.sample();
  expect(before.onGround).toBe(false);
  flight.obey({ word: 'RESET' });
  for (let tick = 0; tick < 1000; tick += 1) flight.tick();
  const parked = flight.sample();
  expect(parked).toMatchObject({ onGround: true, groundspeedKt: 0, heightFt: 0 });
  expect(parked.timeS).toBeGreaterThan(before.timeS);
});

test('the same seed flies the same flight, another seed another', () => {
  const [one, same, other] = [fly('prompt', { seed: 3 }), fly('prompt', { seed: 3 }), fly('prompt', { seed: 4 })];
  expect(same.samples).toEqual(one.samples);
  expect(other.samples).not.toEqual(one.samples);
});

test('a failure that the physics cannot fly is refused, and the engine runs on', () => {
  const bundle = bundleFor('first-turn-back');
  const steep = { ...bundle.scenario, technique: { ...bundle.scenario.technique, bankDeg: 72 } };
  const flight = new StandInFlight(bundle);
  flight.begin({ ...bundle, scenario: steep }, 'prompt', 1, 1);
  for (let tick = 0; tick < 5000; tick += 1) flight.tick();
  expect(() => flight.obey({ word: 'FAIL', propeller: 'coarse' })).toThrow(/technique\.bankDeg must be 5 to 70/);
  for (let tick = 0; tick < 500; tick += 1) flight.tick();
  expect(flight.sample().powerFraction).toBeGreaterThan(0.99);
});

test('an unknown pilot and a propeller state the aeroplane does not have are refused by name', () => {
  const bundle = bundleFor('low-and-ahead');
  const flight = new StandInFlight(bundle);
  expect(() => flight.begin(bundle, 'ace', 1, 1)).toThrow(/pilot must be one of prompt, .*, got "ace"/);
  expect(() => flight.obey({ word: 'FAIL', propeller: 'coarse' })).toThrow(/propeller must be a state/);
});
