// Look of the section on ordinary errors: quiet text, a plain bar of progress, a table as in the ledger.
import { css } from 'lit';

export const pilotErrorsStyles = css`
  :host { padding: 0; font-size: 0.875rem; line-height: 1.45; }
  h2 { font-size: 0.9375rem; }
  p { text-wrap: pretty; }
  h2 + p { margin-top: 0.2rem; }
  p + p, table + p, .act, .result, details { margin-top: 0.5rem; }
  .act { min-height: 2.5rem; }
  .act .button { font-size: 0.9375rem; }
  .counting { display: grid; grid-template-columns: 1fr auto; align-items: center; gap: 0.3rem 1rem; }
  .counting label, .counting .done { grid-row: 1; }
  .counting .done { text-align: right; color: var(--quiet); }
  .counting .button { grid-column: 2; grid-row: 2; }
  progress {
    appearance: none; display: block; width: 100%; height: 12px; border: 1px solid var(--edge); border-radius: 2px;
    background: var(--sheet); overflow: hidden;
  }
  progress::-webkit-progress-bar { background: var(--sheet); }
  progress::-webkit-progress-value { background: var(--accent); }
  progress::-moz-progress-bar { background: var(--accent); }
  .result:focus { outline: none; }
  .runway { font-weight: 600; }
  table { width: 100%; margin-top: 0.5rem; border-collapse: collapse; }
  th, td { height: 25px; padding: 0 0 0 0.75rem; text-align: right; font-weight: 400; white-space: nowrap; }
  th:first-child { padding-left: 0; text-align: left; white-space: normal; line-height: 1.25; }
  thead th { color: var(--quiet); font-size: 0.8125rem; }
  tbody :is(th, td) { border-top: 1px solid var(--rule); }
  .problem { color: var(--alarm); }
  details { font-size: 0.8125rem; color: var(--quiet); }
  summary { display: inline-block; min-height: 24px; line-height: 24px; cursor: pointer; list-style: none; }
  summary::-webkit-details-marker { display: none; }
  summary span { border-bottom: 1px dotted currentColor; }
  summary:hover { color: var(--ink); }
  ul { margin: 0.25rem 0 0; padding-left: 1.1rem; }
`;
