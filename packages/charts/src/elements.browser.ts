// Page of the element tests: defines the charts and shows them with an invented flight.
import { defineCharts } from './defineCharts.js';
import { teardrop } from './teardrop.fixture.js';

defineCharts();
const { trace, score } = teardrop();
const ledger = {
  heightAtFailureFt: 1000,
  rows: [
    { code: 'climbed-on', text: 'Climbed on', heightFt: 60, energyFt: -20, fromS: 60, toS: 64 },
    { code: 'turn', text: 'Turn', heightFt: -1060, energyFt: -1100, fromS: 66, toS: 115 },
  ],
  heightAtContactFt: 0,
};
const costs = {
  text: 'As it was flown, a return needed 150 ft more than with the technique asked.',
  neededAskedFt: 800,
  neededFlownFt: 950,
  totalFt: 150,
  rows: [
    { code: 'delay', text: 'Acting after 6.0 s, where 3 s were asked', costFt: 120 },
    { code: 'bank', text: 'Turning with 50° of bank, where 45° were asked', costFt: -20 },
    { code: 'interaction', text: 'Together they cost other than one by one', costFt: 50 },
  ],
};
const runway = {
  name: '24',
  lengthFt: 4600,
  widthFt: 75,
  headingTrueDeg: 238,
  elevationFt: 312,
  surface: 'paved',
  airfield: { beyondEndFt: 700, besideFt: 500 },
} as const;
const weather = { temperatureC: 15, qnhHpa: 1013.25, winds: [{ heightFt: 33, fromTrueDeg: 255, speedKt: 8 }] };
const criteria = {
  ...score.criteria,
  touchdown: { ...score.criteria.touchdown, score: null, measured: null, atS: null },
};

const shown = [
  Object.assign(document.createElement('score-bars'), { criteria }),
  Object.assign(document.createElement('time-charts'), { trace, score, wingsLevelHeightFt: 100, cursorS: 60 }),
  Object.assign(document.createElement('plan-view'), { trace, score, runway, weather, cursorS: 60 }),
  Object.assign(document.createElement('height-ledger'), { ledger }),
  Object.assign(document.createElement('deviation-costs'), { costs }),
];
for (const element of shown) {
  element.style.cssText = 'width: 720px; height: 420px; margin-bottom: 20px';
  document.body.append(element);
}
document.addEventListener('cursor-time', (event) => {
  const { detail: cursorS } = event as CustomEvent<number>;
  for (const element of document.querySelectorAll('time-charts, plan-view')) Object.assign(element, { cursorS });
});
