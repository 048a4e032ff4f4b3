import { test } from 'vitest';
import { Score } from '@stillprop/contracts';
import { debriefText, scoreRecording } from './index.js';
import { flownRecording, type FlownPilot } from './flown.testdata.js';
import { shelfBundle } from './shelf.testdata.js';

const b = shelfBundle('first-turn-back');
const pilots: [string, number, FlownPilot][] = [
  ['prompt', 1000, {}],
  ['prompt', 900, {}],
  ['hesitant', 1000, { technique: { delayS: 6 } }],
  ['shallow', 1000, { technique: { bankDeg: 27 } }],
  ['overbanked', 1000, { change: (c, after) => (after > 5 && after < 12 ? { ...c, bankRad: Math.sign(c.bankRad) * 1.12, pitch: { kind: 'loadFactor', loadFactor: 2.2 } } : c) }],
  ['lands-ahead', 900, { technique: { turn: 'ahead' } }],
  ['never-reacts', 900, { frozen: true }],
];
test.each(pilots)('%s %s', (name, h, p) => {
  const r = flownRecording(b, h, p);
  const t0 = performance.now();
  const s = scoreRecording(r);
  const ms = performance.now() - t0;
  Score.parse(s);
  console.error('=====', name, h, ms.toFixed(0), 'ms', s.outcome, JSON.stringify(s.failure));
  console.error(debriefText(s, r.header));
  for (const e of s.events) console.error(e.atS.toFixed(2), e.heightFt, e.code, e.text);
  console.error(JSON.stringify(s.criteria, null, 0));
  console.error(JSON.stringify(s.phases));
});
