// Element deviation-costs: what each deviation from the technique cost in feet, as rows with bars and figures.
import type { Costs } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { property } from 'lit/decorators.js';
import { signedNumber } from './figures.js';
import { sharedStyles } from './sharedStyles.js';

/** A table: its figures are its text alternative. */
export class DeviationCosts extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      p { margin: 0 0 0.5rem; font-size: 0.875rem; line-height: 1.4; }
      table { width: 100%; border-collapse: collapse; font-size: 0.875rem; }
      th, td { padding: 0.2rem 0; font-weight: 400; text-align: left; vertical-align: middle; line-height: 1.3; }
      td.figure { text-align: right; white-space: nowrap; padding-left: 0.75rem; font-variant-numeric: tabular-nums; }
      td.bar { width: 34%; padding-left: 0.75rem; }
      tr.sum :is(th, td) { font-weight: 600; border-top: 1px solid var(--rule); }
      .way { position: relative; height: 12px; }
      .piece { position: absolute; top: 0; height: 12px; min-width: 2px; background: var(--accent); }
      .piece.gain { background: var(--paper); border: 1.5px solid var(--accent); }
      .piece.whole { background: var(--ink); }
      .quiet { margin: 0.4rem 0 0; font-size: 0.8125rem; }
    `,
  ];
  @property({ attribute: false }) costs: Costs | null = null;

  override render() {
    const { costs } = this;
    if (!costs) return nothing;
    const { totalFt, rows } = costs;
    if (totalFt === null || rows.length === 0) return html`<p>${costs.text}</p>`;
    const figures = [...rows.map(({ costFt }) => costFt), totalFt];
    const lowest = Math.min(0, ...figures);
    const spanFt = Math.max(1, ...figures) - lowest;
    const share = (ft: number) => (100 * (ft - lowest)) / spanFt;
    const bar = (ft: number, kind: string) => html`<td class="bar"><div class="way"><div class="piece ${kind}"
      style="left:${share(Math.min(0, ft))}%;width:${(100 * Math.abs(ft)) / spanFt}%"></div></div></td>`;
    const row = (text: string, ft: number, kind: string, className = '') => html`<tr class=${className}>
        <th scope="row">${text}</th>${bar(ft, kind)}<td class="figure">${signedNumber(ft)} ft</td></tr>`;
    return html`<p>${costs.text}</p>
      <table>
        <thead class="unseen"><tr><th scope="col">Deviation</th><th>Drawn</th><th scope="col">Cost in height</th></tr></thead>
        <tbody>
          ${rows.map(({ text, costFt }) => row(text, costFt, costFt < 0 ? 'gain' : ''))}
          ${rows.length > 1 ? row('All of it', totalFt, 'whole', 'sum') : nothing}
        </tbody>
      </table>
      <p class="quiet">By the model, from the state in which the power was lost: how much less height a return needs with one
        thing put right. Speed that wanders, a slow roll and a late push are in none of these.</p>`;
  }
}
