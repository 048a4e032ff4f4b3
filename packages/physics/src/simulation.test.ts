// The stepped simulation: handbook take-off, the same flight as the modelled attempt, stall, roll-out.
import { expect, test } from 'vitest';
import type { FlightControls } from './controls.js';
import { flyAttempt } from './flyAttempt.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { FlyRequest } from './request.js';
import { FlightSimulation } from './simulation.js';
import { TurnBackPilot } from './turnBackPilot.js';

function departed(request: FlyRequest, untilFt: number, dtS = 0.02): FlightSimulation {
  const { aircraft, runway, weather, technique } = request;
  const simulation = new FlightSimulation({ aircraft, runway, weather, climbKcas: technique.climbKcas });
  for (let i = 0; i < 200 / dtS && simulation.read().heightFt < untilFt; i++) simulation.step(dtS, null);
  return simulation;
}

test.each([
  {},
  { weather: surfaceWind(60, 12) },
  { runway: { elevationFt: 3000 }, weather: { temperatureC: 25 }, aircraft: { takeoffTo50FtFt: 2600 } },
])('reaches 50 ft in the handbook distance, nearly at climb speed: %j', (change) => {
  const request = requestR(change);
  const { xFt, yFt, kcas, onGround } = departed(request, 50).read();
  expect(Math.abs(xFt - request.aircraft.takeoffTo50FtFt)).toBeLessThan(20);
  expect(Math.abs(yFt)).toBeLessThan(10);
  expect(Math.abs(kcas - 92)).toBeLessThan(4);
  expect(onGround).toBe(false);
});

test('climbs where the modelled departure climbs', () => {
  const request = requestR({ weather: surfaceWind(50, 12) });
  const { xFt, yFt, kcas } = departed(request, 900).read();
  const modelled = flyAttempt({ ...request, failure: { ...request.failure, heightFt: 900 } });
  // The modelled climb is steady: it leaves out what a headwind that grows with height adds to the climb.
  expect(Math.abs(xFt / modelled.failure.distanceFt - 1)).toBeLessThan(0.06);
  expect(Math.abs(yFt)).toBeLessThan(5);
  expect(Math.abs(kcas - 92)).toBeLessThan(0.5);
});

test.each([{}, { delayS: 1 }, { bankDeg: 30 }])(
  'ends where the modelled attempt from the same moment ends: %j',
  (technique) => {
    const request = requestR({ technique, weather: surfaceWind(120, 6) });
    const simulation = departed(request, 1000, 0.01);
    simulation.setEngine({ powerFraction: 0, propeller: 'coarse' });
    const modelled = flyAttempt(request, { start: simulation.asStart() });
    const pilot = new TurnBackPilot(simulation, request);
    while (!simulation.onGround && simulation.timeS < 400) simulation.step(0.01, pilot.controls());
    const contact = simulation.read();
    expect(Math.abs(contact.xFt - modelled.touchdown.alongFt)).toBeLessThan(10);
    expect(Math.abs(contact.yFt - modelled.touchdown.acrossFt)).toBeLessThan(5);
    while (!simulation.read().stopped && simulation.timeS < 400) simulation.step(0.01, pilot.controls());
    if (modelled.stopMarginFt !== null)
      expect(Math.abs(simulation.read().xFt - modelled.stopMarginFt)).toBeLessThan(25);
  },
);

test('what is flown does not depend on how often it is stepped', () => {
  const controls: FlightControls = {
    bankRad: 0.5,
    pitch: { kind: 'speed', kcas: 85, stallMargin: 1.05, minimumLoadFactor: 0.5 },
    gearDown: false,
    flapDown: false,
    brake: 0,
    slipDrag: 0,
  };
  const flown = (dtS: number) => {
    const simulation = departed(requestR(), 600, 0.1);
    simulation.setEngine({ powerFraction: 0, propeller: 'coarse' });
    for (let i = 0; i < Math.round(12 / dtS); i++) simulation.step(dtS, controls);
    return Array.from(simulation.state);
  };
  expect(flown(0.1)).toEqual(flown(0.01));
  expect(flown(0.5)).toEqual(flown(0.01));
});

test('a pilot who pulls too hard in a steep turn stalls, sinks and is rolled over', () => {
  const simulation = departed(requestR(), 900);
  simulation.setEngine({ powerFraction: 0, propeller: 'coarse' });
  const pull: FlightControls = {
    bankRad: Math.PI / 3,
    pitch: { kind: 'loadFactor', loadFactor: 2.2 },
    gearDown: false,
    flapDown: false,
    brake: 0,
    slipDrag: 0,
  };
  let stalledAtS: number | null = null;
  let bank = 0;
  for (let i = 0; i < 300; i++) {
    simulation.step(0.02, pull);
    const reading = simulation.read();
    if (reading.stalled && stalledAtS === null) stalledAtS = reading.timeS;
    bank = Math.max(bank, Math.abs(reading.bankDeg));
  }
  expect(stalledAtS).not.toBeNull();
  expect(bank).toBeGreaterThan(65);
  expect(simulation.read().verticalSpeedFpm).toBeLessThan(-2500);
});

test('wings level and lightly flown it does not stall', () => {
  const simulation = departed(requestR(), 900);
  const pilot = new TurnBackPilot(simulation, requestR());
  let stalled = false;
  simulation.setEngine({ powerFraction: 0, propeller: 'coarse' });
  while (!simulation.onGround && simulation.timeS < 400) {
    simulation.step(0.05, pilot.controls());
    stalled ||= simulation.read().stalled;
  }
  expect(stalled).toBe(false);
});

test('after contact it stays down, stops, and gear and flap show where they are', () => {
  const request = requestR({ technique: { turn: 'ahead', flapDownHeightFt: 300 } });
  const simulation = departed(request, 120);
  expect(simulation.read().gearFraction).toBeLessThan(1);
  simulation.setEngine({ powerFraction: 0, propeller: 'stopped' });
  const pilot = new TurnBackPilot(simulation, request);
  let lifted = 0;
  let wasOnGround = false;
  for (let i = 0; i < 4000 && !simulation.read().stopped; i++) {
    simulation.step(0.05, pilot.controls());
    if (wasOnGround && !simulation.onGround) lifted++;
    wasOnGround = simulation.onGround;
  }
  const end = simulation.read();
  expect(end.stopped).toBe(true);
  expect(end.groundspeedKt).toBeLessThan(0.2);
  expect(lifted).toBe(0);
  expect(end.gearFraction).toBe(1);
  expect(end.flapFraction).toBe(1);
  expect(end.heightFt).toBe(0);
});

test('turbulence of a seed is flown the same again', () => {
  const { aircraft, runway, weather } = requestR();
  const flown = (seed: number) => {
    const simulation = new FlightSimulation({
      aircraft,
      runway,
      weather,
      climbKcas: 92,
      turbulence: { windAt20FtKt: 15, seed },
    });
    for (let i = 0; i < 600; i++) simulation.step(0.1, null);
    return simulation.read();
  };
  expect(flown(1)).toEqual(flown(1));
  expect(flown(1).heightFt).not.toBe(flown(2).heightFt);
});

test('a propeller state without a figure and a power above one are refused', () => {
  const simulation = departed(requestR({ aircraft: { propellerSinkFactor: { coarse: 1 } } }), 100);
  expect(() => simulation.setEngine({ powerFraction: 0, propeller: 'stopped' })).toThrow(RangeError);
  expect(() => simulation.setEngine({ powerFraction: 1.2, propeller: 'coarse' })).toThrow(
    'powerFraction must be 0 to 1',
  );
  expect(() => simulation.step(Number.NaN, null)).toThrow('dtS must be 0 to 60 s');
});
