import { test } from 'vitest';
import { attemptOf } from './attempt.js';
import { airspeedCriterion } from './criteria/airspeed.js';
import { bankCriterion } from './criteria/bank.js';
import { flownRecording } from './flown.testdata.js';
import { shelfBundle } from './shelf.testdata.js';
import { degraded, type Schedule, syntheticRecording } from './synthetic.testdata.js';

const b = shelfBundle('first-turn-back');
const grid: Partial<Schedule>[] = [
  {},
  { delayS: 1 },
  { delayS: 5 },
  { delayS: 6.3 },
  { bankDeg: 30 },
  { bankDeg: 60 },
  { speedKt: 75 },
  { ahead: true, alongFt: 9000 },
  { ahead: true, delayS: 5, alongFt: 9000 },
  { delayS: -1.5 },
];
test.each(grid)(
  '%j',
  (g) => {
    for (const rateHz of [5, 20, 100]) {
      const worst: Record<string, number[]> = {};
      const put = (k: string, v: number) => {
        const l = worst[k] ?? [];
        l.push(v);
        worst[k] = l;
      };
      let codes = '';
      for (let bad = 0; bad < (rateHz === 100 ? 4 : 20); bad++) {
        const { recording, truth } = syntheticRecording(b, { ...g, rateHz });
        const r = bad === 0 ? recording : degraded(recording, bad);
        const a = attemptOf(r);
        const m = a.moments;
        put('loss', (m.lossS ?? NaN) - truth.lossS);
        put('action', (m.firstActionS ?? NaN) - truth.actionS);
        put('contact', (m.contactS ?? NaN) - truth.contactS);
        put('bank', bankCriterion(a).measured ?? NaN);
        put('ias', airspeedCriterion(a).measured ?? NaN);
        put('margin', a.stall.leastMargin ?? NaN);
        put('along', a.touchdown?.landing?.alongFt ?? NaN);
        put('sink', a.touchdown?.sinkFpm ?? NaN);
        put('tbank', a.touchdown?.bankDeg ?? NaN);
        put('stall', a.stall.stalledAtS ?? -1);
        codes += (m.control ?? '-').replace('nose-', '')[0];
      }
      console.error(
        JSON.stringify(g),
        rateHz,
        codes,
        Object.entries(worst)
          .map(
            ([k, v]) =>
              `${k} ${Math.min(...v).toFixed(2)}..${Math.max(...v).toFixed(2)}${v.some(Number.isNaN) ? ' NAN' + v.filter(Number.isNaN).length : ''}`,
          )
          .join('  '),
      );
    }
  },
  60000,
);
test('flown', () => {
  for (const [id, h] of [
    ['first-turn-back', 900],
    ['low-and-ahead', 350],
  ] as const)
    for (const t of [
      { delayS: 0.5 },
      { delayS: 1 },
      { delayS: 3 },
      { delayS: 5 },
      { delayS: 7 },
      { delayS: 1, turn: 'ahead' as const },
      { delayS: 3, turn: 'ahead' as const },
      { delayS: 4, turn: 'ahead' as const },
      { delayS: 5, turn: 'ahead' as const },
      { delayS: 6, turn: 'ahead' as const },
      { delayS: 8, turn: 'ahead' as const },
    ])
      for (const hz of [5, 20, 60]) {
        const out = [];
        const r0 = flownRecording(shelfBundle(id), h, { technique: t }, hz);
        for (let bad = 0; bad < 6; bad++) {
          const r = bad ? degraded(r0, bad * 13) : r0;
          const a = attemptOf(r);
          out.push(
            `${((a.moments.firstActionS ?? NaN) - (a.moments.lossS ?? NaN) - t.delayS).toFixed(2)}${a.moments.control}`,
          );
        }
        console.error('flown', id, JSON.stringify(t), hz, out.join(' '));
      }
  for (const [id, h] of [
    ['first-turn-back', 900],
    ['low-and-ahead', 350],
  ] as const)
    for (const hz of [5, 20, 60]) {
      const r0 = flownRecording(shelfBundle(id), h, { frozen: true }, hz);
      const out = [];
      for (let bad = 0; bad < 10; bad++) {
        const a = attemptOf(bad ? degraded(r0, bad * 7) : r0);
        out.push(
          a.moments.firstActionS === null
            ? '-'
            : (a.moments.firstActionS - a.moments.lossS!).toFixed(1) + a.moments.control,
        );
      }
      console.error('frozen', id, hz, out.join(' '));
    }
}, 90000);
