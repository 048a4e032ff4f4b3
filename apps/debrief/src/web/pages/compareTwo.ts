// Element compare-two: the difference between two attempts: what was flown, what it cost in feet, both tracks.
import { defineCharts } from '@stillprop/charts';
import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { FIGURE_WORDS } from '../elements/spreadBar.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath } from '../routes.js';
import { dateWords, OUTCOME_WORDS, pilotName } from '../words.js';
import { differenceRows } from './compareDifference.js';
import { ComparedAttempts } from './comparedAttempts.js';
import { type Loaded, onSameRunway, shownTracks } from './compareLoaded.js';
import { compareStyles, insidePage } from './compareStyles.js';

defineCharts();

@customElement('compare-two')
export class CompareTwo extends ComparedAttempts {
  static override styles = [pageStyles, compareStyles, insidePage];

  protected override shown([first, second = first]: readonly [Loaded, ...Loaded[]]) {
    const head = (
      { detail }: Loaded,
      name: string,
    ) => html`<th scope="col"><a href=${attemptPath(detail.summary.attemptId)}>${name}</a><br />
      <span class="quiet small">${pilotName(detail.summary)}, ${dateWords(detail.summary.startedAt)}</span></th>`;
    const alike =
      first.detail.score.rubric.id === second.detail.score.rubric.id &&
      first.detail.score.rubric.revision === second.detail.score.rubric.revision;
    return html`${alike ? nothing : html`<div class="notice"><p>These two were marked by different rubrics or revisions: their scores do not compare.</p></div>`}
      ${onSameRunway(first, second) ? nothing : html`<div class="notice"><p>B was flown from another runway, and is not drawn.</p></div>`}
      <div class="two">
        <table data-testid="difference">
          <thead><tr><th scope="col"><span class="unseen">Figure</span></th>${head(first, 'A')}${head(second, 'B')}<th scope="col" class="number">B less A</th></tr></thead>
          <tbody>
            <tr><th scope="row">Outcome</th><td>${OUTCOME_WORDS[first.detail.score.outcome]}</td><td>${OUTCOME_WORDS[second.detail.score.outcome]}</td><td></td></tr>
            ${differenceRows(first.detail.score, second.detail.score).map(
              ({ name, a, b, difference }) =>
                html`<tr><th scope="row">${name}</th><td>${a}</td><td>${b}</td><td class="number">${difference}</td></tr>`,
            )}
          </tbody>
        </table>
        <tracks-view .runway=${first.detail.header.runway} .tracks=${shownTracks([first, second])}></tracks-view>
      </div>
      <p class="small quiet">${FIGURE_WORDS.costFt.name}: height a return needed more, by the model, for how it was flown.</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'compare-two': CompareTwo;
  }
}
