// The form that narrows a comparison: outcomes with their counts, days, failure heights. It opens when it is wanted.
import { plainNumber } from '@stillprop/charts';
import { type Comparison, FlownOutcome } from '@stillprop/contracts';
import { html, nothing } from 'lit';
import { type CompareFilter, NOT_NARROWED } from '../compareRoute.js';
import { OUTCOME_WORDS } from '../words.js';
import { filterWords } from './compareFilterWords.js';

/** Made of the filter as it is then, which may be newer than what the form was drawn with. */
export type FilterChange = (filter: CompareFilter) => CompareFilter;

/** @param outcomes Counts to show beside the outcomes; null: not known here. */
export function filtersForm(
  filter: CompareFilter,
  outcomes: Comparison['outcomes'] | null,
  onChange: (change: FilterChange) => void,
) {
  const words = filterWords(filter);
  const counts = new Map(outcomes?.map(({ outcome, attempts }) => [outcome, attempts]));
  // Those nobody flew are left out, unless they are asked for.
  const shown = FlownOutcome.options.filter(
    (outcome) => outcomes === null || counts.has(outcome) || filter.outcomes.includes(outcome),
  );
  const textIn = (event: Event) => (event.target as HTMLInputElement).value;
  const heightOf = (event: Event) => {
    const input = event.target as HTMLInputElement;
    const value = Number.parseFloat(input.value);
    return Number.isNaN(value) ? null : Math.round(Math.min(60_000, Math.max(0, value)));
  };
  const set = (change: Partial<CompareFilter>) => onChange((now) => ({ ...now, ...change }));
  return html`<details class="filters" data-testid="filters">
      <summary>Narrow by outcome, date or height</summary>
      <div class="choice">
        <fieldset><legend>Outcome</legend>${shown.map(
          (
            outcome,
          ) => html`<label class="tick"><input type="checkbox" data-testid="outcome-${outcome}" .checked=${filter.outcomes.includes(outcome)}
            @change=${(event: Event) => {
              const ticked = (event.target as HTMLInputElement).checked;
              onChange((now) => ({
                ...now,
                outcomes: FlownOutcome.options.filter((each) =>
                  each === outcome ? ticked : now.outcomes.includes(each),
                ),
              }));
            }} />${OUTCOME_WORDS[outcome]}${outcomes === null ? nothing : html` <span class="quiet">(${plainNumber(counts.get(outcome) ?? 0)})</span>`}</label>`,
        )}</fieldset>
        <div class="field"><label for="from-day">Flown from</label><input id="from-day" type="date" data-testid="from-day" .value=${filter.fromDay ?? ''}
          @change=${(event: Event) => set({ fromDay: textIn(event) || null })} /></div>
        <div class="field"><label for="to-day">to</label><input id="to-day" type="date" data-testid="to-day" .value=${filter.toDay ?? ''}
          @change=${(event: Event) => set({ toDay: textIn(event) || null })} /></div>
        <div class="field height"><label for="from-height">Power lost from (ft)</label><input id="from-height" type="number" min="0" max="60000" step="50" data-testid="from-height"
          .value=${filter.heightFromFt === null ? '' : String(filter.heightFromFt)} @change=${(event: Event) => set({ heightFromFt: heightOf(event) })} /></div>
        <div class="field height"><label for="to-height">to (ft)</label><input id="to-height" type="number" min="0" max="60000" step="50" data-testid="to-height"
          .value=${filter.heightToFt === null ? '' : String(filter.heightToFt)} @change=${(event: Event) => set({ heightToFt: heightOf(event) })} /></div>
      </div>
    </details>
    ${
      words === ''
        ? nothing
        : html`<p class="narrowed" data-testid="narrowed">Only: ${words}. <button class="plain" data-testid="show-all" @click=${() => onChange(() => NOT_NARROWED)}>Show all</button></p>`
    }`;
}
