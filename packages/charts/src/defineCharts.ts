// Makes the chart elements known to the page by their tags; importing them alone does nothing.
import { DeviationCosts } from './deviationCosts.js';
import { HeightLedger } from './heightLedger.js';
import { PlanView } from './planView.js';
import { ProfileView } from './profileView.js';
import { ScoreBars } from './scoreBars.js';
import { TimeCharts } from './timeCharts.js';
import { TracksView } from './tracksView.js';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'score-bars': ScoreBars,
  'time-charts': TimeCharts,
  'plan-view': PlanView,
  'profile-view': ProfileView,
  'tracks-view': TracksView,
  'height-ledger': HeightLedger,
  'deviation-costs': DeviationCosts,
};

/** Defines each of these elements, once however often it is called. */
export function defineCharts() {
  for (const [tag, element] of Object.entries(ELEMENTS)) {
    if (!customElements.get(tag)) customElements.define(tag, element);
  }
}
