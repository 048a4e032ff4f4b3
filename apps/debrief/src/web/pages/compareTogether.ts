// Element compare-together: three to eight attempts, their tracks over each other and a table of their figures.
import { defineCharts, figure, plainNumber, trackDash } from '@stillprop/charts';
import { COMPARED_FIGURES } from '@stillprop/contracts';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { FIGURE_WORDS, figureText } from '../elements/spreadBar.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath } from '../routes.js';
import { dateWords, OUTCOME_WORDS, pilotName } from '../words.js';
import { ComparedAttempts } from './comparedAttempts.js';
import { type Loaded, letterOf, onSameRunway, shownTracks } from './compareLoaded.js';
import { compareStyles, insidePage } from './compareStyles.js';

defineCharts();

@customElement('compare-together')
export class CompareTogether extends ComparedAttempts {
  static override styles = [pageStyles, compareStyles, insidePage];

  protected override shown(loaded: readonly [Loaded, ...Loaded[]]) {
    const [first] = loaded;
    const rubrics = new Set(loaded.map(({ detail: { score } }) => `${score.rubric.id} ${score.rubric.revision}`));
    const elsewhere = loaded.flatMap((each, i) => (onSameRunway(first, each) ? [] : [letterOf(i)]));
    return html`${rubrics.size === 1 ? nothing : html`<div class="notice"><p>These were marked by different rubrics or revisions: their scores do not compare.</p></div>`}
      ${elsewhere.length === 0 ? nothing : html`<div class="notice"><p>Flown from another runway, and not drawn: ${elsewhere.join(', ')}.</p></div>`}
      <tracks-view class="together" .runway=${first.detail.header.runway} .tracks=${shownTracks(loaded)}></tracks-view>
      <div class="box" tabindex="0" role="region" aria-label="Figures of the attempts"><table data-testid="together">
        <thead><tr><th scope="col">Track</th><th scope="col">Pilot</th><th scope="col">Flown</th><th scope="col">Power lost at</th>${COMPARED_FIGURES.map((each) => html`<th scope="col">${FIGURE_WORDS[each].name}</th>`)}<th scope="col">Outcome</th></tr></thead>
        <tbody>${loaded.map((each, i) => this.row(each, i))}</tbody>
      </table></div>
      <p class="small quiet">${FIGURE_WORDS.costFt.name}: height a return needed more, by the model, for how it was flown.</p>`;
  }

  private row({ detail: { summary, score } }: Loaded, i: number) {
    return html`<tr>
      <th scope="row"><svg class="key" width="46" height="10" aria-hidden="true"><path class=${i % 2 === 0 ? 'track' : 'track other'} d="M1 5H45" stroke-dasharray=${trackDash(i)}></path></svg> <b>${letterOf(i)}</b></th>
      <td>${pilotName(summary)}</td>
      <td><a href=${attemptPath(summary.attemptId)}>${dateWords(summary.startedAt)}</a></td>
      <td>${score.failure === null ? '—' : figure(score.failure.heightFt, 'ft')}</td>
      ${COMPARED_FIGURES.map((each) => {
        const value = each === 'overall' ? score.overall : summary[each];
        return html`<td>${value === null ? '—' : each === 'overall' ? plainNumber(value) : figureText(value, each)}</td>`;
      })}
      <td>${OUTCOME_WORDS[score.outcome]}</td></tr>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'compare-together': CompareTogether;
  }
}
