// Element height-ledger: where the height went, as rows of a waterfall with their figures.
import type { Ledger } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { property } from 'lit/decorators.js';
import { plainNumber, signedNumber } from './figures.js';
import { sharedStyles } from './sharedStyles.js';
import { waterfall } from './waterfall.js';

/** Where the heights of a ledger end. */
type LedgerEnd = 'contact' | 'floor' | 'air';

const END_WORDS: Readonly<Record<LedgerEnd, string>> = {
  contact: 'Height at contact',
  floor: 'Height at the floor',
  air: 'Height at the end',
};

/**
 * A table: its figures are its text alternative.
 * @fires cursor-time - CustomEvent<number>: start (recording seconds) of a chosen row.
 */
export class HeightLedger extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      table { width: 100%; border-collapse: collapse; font-size: 0.875rem; }
      th, td { padding: 0; text-align: right; font-weight: 400; white-space: nowrap; height: 25px; }
      th:first-child { text-align: left; padding-right: 0.75rem; white-space: normal; line-height: 1.25; min-width: 9rem; }
      thead th { color: var(--quiet); font-size: 0.8125rem; vertical-align: bottom; padding-left: 0.75rem; }
      td.bar { width: 42%; padding: 0; }
      :host { container-type: inline-size; }
      @container (max-width: 26rem) { td.bar { width: 26%; } }
      td:not(.bar) { padding-left: 0.75rem; }
      tr.sum th, tr.sum td { font-weight: 600; }
      tr.sum.last :is(th, td) { border-top: 1px solid var(--rule); }
      .way { position: relative; height: 12px; }
      .piece { position: absolute; top: 0; height: 12px; min-width: 2px; background: var(--accent); }
      .piece.gain { background: var(--paper); border: 1.5px solid var(--accent); }
      .piece.whole { background: var(--ink); }
      button { font: inherit; color: inherit; background: none; border: 0; padding: 0; min-height: 24px; cursor: pointer; text-align: left; }
      button span { border-bottom: 1px dotted var(--quiet); }
      button:hover span { color: var(--accent); border-bottom: 1px solid var(--accent); }
      p { margin: 0.4rem 0 0; font-size: 0.8125rem; line-height: 1.35; color: var(--quiet); }
    `,
  ];
  @property({ attribute: false }) ledger: Ledger | null = null;
  /** A recording that ends in the air has no contact to name. */
  @property({ attribute: false }) end: LedgerEnd = 'contact';

  override render() {
    const { ledger } = this;
    if (!ledger) return nothing;
    const { pieces, share } = waterfall(ledger);
    return html`<table>
        <thead>
          <tr><th scope="col"><span class="unseen">Part of the flight</span></th><th><span class="unseen">Drawn</span></th>
            <th scope="col">height, ft</th><th scope="col">energy, ft</th></tr>
        </thead>
        <tbody>
          ${sumRow('Height at failure', ledger.heightAtFailureFt, share(0), share(ledger.heightAtFailureFt), '')}
          ${ledger.rows.map((row, i) => {
            const piece = pieces[i];
            return html`<tr data-testid="ledger-${row.code}">
              <th scope="row"><button title="Show this moment in the charts" @click=${() => this.tellMoment(row.fromS)}>
                <span>${row.text}</span></button></th>
              <td class="bar" aria-hidden="true">${piece ? bar(piece.from, piece.to, row.heightFt > 0 ? 'gain' : '') : nothing}</td>
              <td>${signedNumber(row.heightFt)}</td><td>${signedNumber(row.energyFt)}</td>
            </tr>`;
          })}
          ${sumRow(END_WORDS[this.end], ledger.heightAtContactFt, share(0), share(ledger.heightAtContactFt), 'last')}
        </tbody>
      </table>
      <p>An outlined bar is height gained. Energy is height plus what the speed is worth as height.</p>`;
  }

  private tellMoment(atS: number) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }
}

function sumRow(text: string, heightFt: number, from: number, to: number, kind: string) {
  return html`<tr class="sum ${kind}"><th scope="row">${text}</th><td class="bar" aria-hidden="true">${bar(from, to, 'whole')}</td>
    <td>${plainNumber(heightFt)}</td><td></td></tr>`;
}

function bar(from: number, to: number, kind: string) {
  const left = Math.min(from, to) * 100;
  const width = Math.abs(to - from) * 100;
  if (width < 0.05) return nothing;
  return html`<div class="way"><div class="piece ${kind}" style="left:${left.toFixed(2)}%;width:${width.toFixed(2)}%"></div></div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'height-ledger': HeightLedger;
  }
}
