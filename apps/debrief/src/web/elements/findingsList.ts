// Element findings-list: what was found, by severity; each told by shape and word, each leading to its moment.
import { SEVERITY_WORDS, unbroken } from '@stillprop/charts';
import type { Finding, Severity } from '@stillprop/contracts';
import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';

const ORDER: readonly Severity[] = ['fault', 'caution', 'note'];
const SHAPES: Readonly<Record<Severity, ReturnType<typeof svg>>> = {
  fault: svg`<path d="M8 1L15 8L8 15L1 8Z" fill="currentColor"></path>`,
  caution: svg`<path d="M8 2L15 14H1Z" fill="none" stroke="currentColor" stroke-width="2"></path>`,
  note: svg`<circle cx="8" cy="8" r="5.5" fill="none" stroke="currentColor" stroke-width="2"></circle>`,
};

/** @fires cursor-time - CustomEvent<number>: the moment (recording seconds) of a chosen finding. */
@customElement('findings-list')
export class FindingsList extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 0; }
      ul { list-style: none; margin: 0; padding: 0; }
      li { display: grid; grid-template-columns: 16px 1fr; gap: 0 0.6rem; padding: 0.35rem 0; font-size: 0.875rem; line-height: 1.4; }
      li + li { border-top: 1px solid var(--rule); }
      svg { margin-top: 3px; }
      .fault { color: var(--alarm); }
      .caution { color: var(--alarm); }
      .note { color: var(--accent); }
      p { color: var(--ink); }
      b { font-weight: 600; }
      button {
        min-height: 24px; margin-left: 0.35rem; padding: 0; border: 0; background: none; color: var(--accent); font: inherit; cursor: pointer;
        text-decoration: underline; text-underline-offset: 3px;
      }
    `,
  ];
  @property({ attribute: false }) findings: readonly Finding[] = [];
  /** Whether there is a total that findings can hold down. */
  @property({ attribute: false }) hasTotal = true;

  override render() {
    const sorted = [...this.findings].sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
    return html`<ul>${sorted.map((finding) => this.item(finding))}</ul>`;
  }

  private item({ code, severity, atS, text, cap }: Finding) {
    return html`<li data-testid="finding-${code}" class=${severity}>
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">${SHAPES[severity]}</svg>
      <p><b class=${severity}>${SEVERITY_WORDS[severity]}.</b> ${unbroken(text)}
        ${cap === undefined || !this.hasTotal ? nothing : html` <span class="quiet">The total is held to ${cap}.</span>`}
        ${atS === null ? nothing : html`<button @click=${() => this.tellMoment(atS)}>Show<span class="unseen"> the moment: ${text}</span></button>`}
      </p>
    </li>`;
  }

  private tellMoment(atS: number) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'findings-list': FindingsList;
  }
}
