// Element score-bars: the four criteria, each with what was measured, the target as a band, the score and why.
import type { Criterion, CriterionName, Score } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { property } from 'lit/decorators.js';
import { type BarScale, barScale, measuredText, targetText } from './barScale.js';
import { unbroken } from './figures.js';
import { sharedStyles } from './sharedStyles.js';
import { CRITERION_ORDER, CRITERION_WORDS } from './words.js';

/**
 * Every figure stands in text; the drawn bar repeats it for the eye.
 * @fires cursor-time - CustomEvent<number>: the moment (recording seconds) that a chosen criterion refers to.
 */
export class ScoreBars extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      ol { list-style: none; margin: 0; padding: 0; }
      li {
        display: grid; grid-template-columns: minmax(6rem, 0.8fr) minmax(5.5rem, 1.35fr) 2.9rem;
        column-gap: 1rem; padding: 0.35rem 0 0.4rem; border-top: 1px solid var(--rule);
      }
      li:first-child { border-top: 0; }
      h3, .moment { font: 600 0.9375rem / 1.5 var(--sans); margin: 0; color: inherit; }
      .moment {
        display: inline-block; min-height: 24px; padding: 0; border: 0; background: none; cursor: pointer; text-align: left;
      }
      .moment span { border-bottom: 1px dotted var(--quiet); }
      .moment:hover span { border-bottom: 1px solid var(--accent); color: var(--accent); }
      .measured, .target { font-size: 0.8125rem; line-height: 1.3; }
      .target { color: var(--quiet); }
      .score { grid-column: 3; grid-row: 1 / span 2; font: 400 1.75rem / 1 var(--serif); text-align: right; align-self: center; }
      .score.none { color: var(--quiet); }
      .why { grid-column: 1 / -1; margin: 0.15rem 0 0; font-size: 0.8125rem; line-height: 1.35; color: var(--quiet); }
      .track { position: relative; height: 24px; }
      .track::before { content: ''; position: absolute; inset: 11px 0 auto; height: 2px; background: var(--rule); }
      .band { position: absolute; top: 5px; height: 14px; background: var(--wash); border: 1px solid var(--accent); }
      .mark { position: absolute; top: 0; width: 3px; height: 24px; margin-left: -1.5px; background: var(--ink); }
      .mark.beyond { width: 12px; height: 14px; top: 5px; background: var(--ink); }
      .mark.below { margin-left: 0; clip-path: polygon(0 50%, 100% 0, 100% 100%); }
      .mark.above { margin-left: -12px; clip-path: polygon(100% 50%, 0 0, 0 100%); }
    `,
  ];
  /** Criteria of one score. */
  @property({ attribute: false }) criteria: Score['criteria'] | null = null;

  override render() {
    const { criteria } = this;
    if (!criteria) return nothing;
    return html`<ol>${CRITERION_ORDER.map((name) => this.row(name, criteria[name]))}</ol>`;
  }

  private row(name: CriterionName, criterion: Criterion) {
    const { score, text, atS } = criterion;
    const title = CRITERION_WORDS[name];
    return html`<li data-testid="criterion-${name}">
      <div>
        ${
          atS === null
            ? html`<h3>${title}</h3>`
            : html`<h3><button class="moment" title="Show this moment in the charts" @click=${() => this.tellMoment(atS)}>
                <span>${title}</span></button></h3>`
        }
      </div>
      ${track(barScale(criterion))}
      <div class="score ${score === null ? 'none' : ''}" data-testid="criterion-${name}-score">
        ${
          score === null
            ? html`<span aria-hidden="true">–</span><span class="unseen">not scored</span>`
            : html`<span class="unseen">Score: </span>${Math.round(score)}<span class="unseen"> of 100</span>`
        }
      </div>
      <div class="measured">
        <span class="unseen">Measured: </span><span data-testid="criterion-${name}-measured">${measuredText(name, criterion)}</span>
      </div>
      <div class="target"><span class="unseen">Target: </span>${targetText(name, criterion)}</div>
      <p class="why">${unbroken(text)}</p>
    </li>`;
  }

  private tellMoment(atS: number) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }
}

function track({ bandFrom, bandTo, mark, beyond }: BarScale) {
  const percent = (share: number) => `${(share * 100).toFixed(2)}%`;
  return html`<div class="track" aria-hidden="true">
    <div class="band" style="left:${percent(bandFrom)};width:${percent(bandTo - bandFrom)}"></div>
    ${mark === null ? nothing : html`<div class="mark ${beyond ? `beyond ${beyond}` : ''}" style="left:${percent(mark)}"></div>`}
  </div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'score-bars': ScoreBars;
  }
}
