// An invented teardrop turn-back as a trace with its score, for tests of the charts.
import type { Criterion, Score, Trace } from '@stillprop/contracts';

/** Power is lost at 60 s, 1,000 ft up and 8,500 ft along; contact at 115 s on the runway. One sample each 0.5 s. */
export function teardrop(): { trace: Trace; score: Score } {
  const timeS = Array.from({ length: 261 }, (_, i) => i / 2);
  const place = timeS.map(placeAt);
  const column = (value: (atS: number) => number) => timeS.map(value);
  const trace: Trace = {
    timeS,
    heightFt: column((t) => (t < 10 ? 0 : t < 60 ? (t - 10) * 20 : Math.max(0, 1000 - ((t - 60) / 55) * 1000))),
    indicatedAirspeedKt: column((t) => (t < 115 ? Math.min(92, t * 8) : Math.max(0, 70 - (t - 115) * 5))),
    stallSpeedKt: column((t) => (t > 66 && t < 86 ? 76 : 64)),
    bankDeg: column((t) => (t > 66 && t < 86 ? 45 : 0)),
    verticalSpeedFpm: column((t) => (t < 10 || t > 115 ? 0 : t < 60 ? 1200 : -1090)),
    loadFactor: column((t) => (t > 66 && t < 86 ? 1.41 : 1)),
    powerFraction: column((t) => (t < 60 ? 1 : 0)),
    alongFt: place.map(([along]) => along),
    acrossFt: place.map(([, across]) => across),
    headingDeg: column(() => 238),
  };
  const event = (code: Score['events'][number]['code'], atS: number, heightFt: number) => ({
    code,
    atS,
    heightFt,
    text: code,
  });
  const score: Score = {
    attemptId: 'a',
    overall: 78,
    uncapped: 78,
    headline: 'You made the runway.',
    outcome: 'stopped-on-runway',
    criteria: {
      delay: criterion(4.1, 3, 's', null, 3),
      bank: criterion(45, 45, '°', 40, 50),
      airspeed: criterion(87, 85, 'kt', 80, 95),
      touchdown: criterion(200, 0, 'ft', 0, 400),
    },
    findings: [],
    verdict: { text: 'There was enough.', neededFt: 905, hadFt: 1000, returnExisted: true },
    ledger: null,
    costs: null,
    events: [
      event('lift-off', 10, 0),
      event('power-lost', 60, 1000),
      event('first-action', 64, 927),
      event('contact', 115, 0),
      event('stopped', 129, 0),
    ],
    phases: [
      { name: 'climb', fromS: 10, toS: 60 },
      { name: 'delay', fromS: 60, toS: 64 },
      { name: 'push', fromS: 64, toS: 66 },
      { name: 'turn', fromS: 66, toS: 86 },
      { name: 'straight', fromS: 86, toS: 100 },
      { name: 'final', fromS: 100, toS: 115 },
      { name: 'roll-out', fromS: 115, toS: 129 },
    ],
    failure: { atS: 60, heightFt: 1000, plannedHeightFt: 1000, distanceFt: 8500, indicatedAirspeedKt: 92 },
    engineRevision: '1',
    rubric: { id: 'standard', revision: 1, name: 'Standard' },
  };
  return { trace, score };
}

function placeAt(t: number): [number, number] {
  if (t < 66) return [Math.min(9000, t * 141), 0];
  if (t < 86) {
    const turnedRad = ((t - 66) / 20) * (210 / 180) * Math.PI;
    return [9000 + 900 * Math.sin(turnedRad), 900 - 900 * Math.cos(turnedRad)];
  }
  const [fromAlong, fromAcross] = placeAt(85.99);
  const share = Math.min(1, (t - 86) / 29);
  const along = fromAlong + (3600 - fromAlong) * share - Math.max(0, t - 115) * 60;
  return [along, fromAcross * (1 - share) ** 2];
}

function criterion(measured: number, target: number, unit: string, from: number | null, to: number | null): Criterion {
  return { score: 80, measured, target, unit, weight: 0.25, band: { from, to }, atS: 64, text: 'Why.', details: {} };
}
