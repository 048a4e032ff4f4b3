import { test } from 'vitest';
import { attemptOf } from './attempt.js';
import { pathAngleDeg } from './derivedColumns.js';
import { flownRecording } from './flown.testdata.js';
import { shelfBundle } from './shelf.testdata.js';
test('flown', () => {
  for (const [id,h,t] of [['first-turn-back',900,{delayS:6,turn:'ahead' as const}],['first-turn-back',900,{delayS:5,turn:'ahead' as const}],['low-and-ahead',350,{delayS:3}],['low-and-ahead',350,{delayS:5}],['low-and-ahead',350,{delayS:7}]] as const) {
    const b = shelfBundle(id);
    const r=flownRecording(b,h,{technique:t},20); const a=attemptOf(r);
    const f=a.flight; const loss=a.moments.lossS!;
    console.error(id, JSON.stringify(t), (a.moments.firstActionS??NaN)-loss, a.moments.control);
    for (let i=0;i<f.count;i+=6){ const t=f.timeS[i]!-loss; if(t<-1||t>12) continue; const g=pathAngleDeg(f.verticalSpeedFpm[i]!,f.tasKt[i]!); console.error(t.toFixed(2),'pitch',f.pitchDeg[i]!.toFixed(2),'path',g.toFixed(2),'aoa',(f.pitchDeg[i]!-g).toFixed(2),'ias',f.iasKt[i]!.toFixed(1),'n',f.loadFactor[i]!.toFixed(2),'bank',f.bankDeg[i]!.toFixed(1));}
  }
},60000);
