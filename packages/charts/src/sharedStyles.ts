// What every chart element shares: text set for figures, a table as text alternative, hidden but readable words.
import { css } from 'lit';

export const sharedStyles = css`
  :host { display: block; color: var(--ink); font-family: var(--sans); font-variant-numeric: tabular-nums lining-nums; }
  *, *::before, *::after { box-sizing: border-box; }
  .unseen {
    position: absolute; width: 1px; height: 1px; margin: -1px; padding: 0; overflow: hidden;
    clip-path: inset(50%); white-space: nowrap; border: 0;
  }
  :focus-visible { outline: 2px solid var(--accent); outline-offset: 2px; }
  details { font-size: 0.8125rem; color: var(--quiet); }
  summary { display: inline-block; min-height: 24px; line-height: 24px; cursor: pointer; list-style: none; }
  summary::-webkit-details-marker { display: none; }
  summary span { border-bottom: 1px dotted currentColor; }
  summary:hover { color: var(--ink); }
  .table-box { max-height: 16rem; overflow: auto; margin-top: 0.25rem; border-top: 1px solid var(--rule); }
  .table-box table { width: 100%; border-collapse: collapse; color: var(--ink); }
  .table-box th, .table-box td { padding: 3px 8px 3px 0; text-align: right; border-bottom: 1px solid var(--rule); font-weight: 400; }
  .table-box thead th { position: sticky; top: 0; background: var(--paper); color: var(--quiet); }
  .table-box :is(th, td):first-child { text-align: left; }
`;
