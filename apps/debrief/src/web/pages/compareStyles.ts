// Layout of the page Compare, on screen and on paper.
import { css } from 'lit';

export const compareStyles = css`
  .head { padding: 1.1rem 0 0.6rem; }
  .choice { display: flex; flex-wrap: wrap; gap: 0.8rem; align-items: end; margin-top: 0.6rem; }
  .field { display: grid; gap: 0.25rem; min-width: 0; }
  .field.wide { flex: 1 1 20rem; max-width: 44rem; }
  label { font: 600 0.9375rem/1.5 var(--sans); }
  select, input[type='search'] {
    width: 100%; height: 2.5rem; padding: 0 0.6rem; border: 1px solid var(--edge); border-radius: 3px;
    background: var(--paper); color: var(--ink); font: 1rem var(--sans);
  }
  .small { font-size: 0.8125rem; line-height: 1.4; }
  table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; margin-top: 0.6rem; }
  th { text-align: left; font: 600 0.875rem/1.4 var(--sans); vertical-align: bottom; }
  th, td { padding: 0.4rem 0.9rem 0.4rem 0; border-bottom: 1px solid var(--rule); }
  tbody th { font-weight: 400; vertical-align: middle; }
  td { font-size: 0.9375rem; vertical-align: middle; }
  .number { text-align: right; }
  th button { font: inherit; color: inherit; background: none; border: 0; padding: 0; min-height: 24px; cursor: pointer; text-align: left; border-bottom: 1px dotted var(--quiet); }
  th button:hover { color: var(--accent); }
  .median { display: inline-block; min-width: 4.2rem; font-weight: 600; }
  .spread { display: block; font-size: 0.75rem; color: var(--quiet); }
  svg { display: block; }
  .range, .middle { stroke: var(--ink); stroke-width: 1.25; }
  .middle { stroke: var(--accent); stroke-width: 3; }
  .half { fill: var(--wash); stroke: var(--accent); }
  .two { display: grid; gap: 1.5rem; }
  tracks-view { min-height: 320px; }
  nav { display: flex; flex-wrap: wrap; gap: 0.6rem; padding: 1rem 0; }
  .box { overflow-x: auto; position: relative; }
  @media (min-width: 1000px) { .two { grid-template-columns: 1fr 1fr; align-items: start; } }
  @media (max-width: 760px) {
    .students table, .students tbody { display: block; }
    .students thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
    .students tr { display: grid; grid-template-columns: 1fr 1fr; gap: 0.2rem 1rem; padding: 0.7rem 0; border-bottom: 1px solid var(--rule); }
    .students tbody th, .students td { border: 0; padding: 0; }
    .students tbody th { grid-column: 1 / -1; font-weight: 600; }
    .students td::before { content: attr(data-label); display: block; font-size: 0.75rem; color: var(--quiet); }
  }
  @media print {
    :host { padding: 0; }
    nav, .choice { display: none; }
    * { color: black; }
    .half { fill: white; stroke: black; }
    .middle, .range { stroke: black; }
  }
`;

/** The page around it has the margins. */
export const insidePage = css`
  :host { padding: 0; }
`;
