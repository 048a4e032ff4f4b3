// Layout of the page Compare, on screen and on paper.
import { css } from 'lit';

export const compareStyles = css`
  .head { padding: 1.1rem 0 0.6rem; }
  .choice { display: flex; flex-wrap: wrap; gap: 0.8rem; align-items: end; margin-top: 0.6rem; }
  .field { display: grid; gap: 0.25rem; min-width: 0; }
  .field.wide { flex: 1 1 20rem; max-width: 44rem; }
  label { font: 600 0.9375rem/1.5 var(--sans); }
  select, input[type='search'], input[type='date'], input[type='number'] {
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
  .spread { display: block; font-weight: 400; font-size: 0.75rem; color: var(--quiet); }
  svg { display: block; }
  .range, .middle, .axis { stroke: var(--ink); stroke-width: 1.25; }
  .axis { stroke: var(--rule); stroke-width: 1; }
  .middle { stroke: var(--accent); stroke-width: 3; }
  .half { fill: var(--wash); stroke: var(--accent); }
  .dot { fill: var(--accent); }
  .track { fill: none; stroke: var(--ink); stroke-width: 2; }
  .track.other { stroke: var(--accent); }
  .key { display: inline-block; vertical-align: middle; }
  .two { display: grid; gap: 1.5rem; }
  tracks-view { min-height: 420px; }
  tracks-view.together { height: clamp(420px, 62vh, 620px); }
  nav { display: flex; flex-wrap: wrap; gap: 0.6rem; padding: 1rem 0; align-items: center; }
  .place { font-size: 0.9375rem; color: var(--quiet); }
  .box { overflow-x: auto; position: relative; }
  .paper-only, .narrow-only { display: none; }
  .filters, .figures { margin-top: 0.4rem; }
  summary { display: inline-block; min-height: 24px; font-size: 0.9375rem; color: var(--accent); cursor: pointer; }
  summary::before { content: '▸ '; }
  details[open] > summary::before { content: '▾ '; }
  .filters .choice { align-items: start; padding-bottom: 0.6rem; }
  .field.height input { width: 9rem; }
  fieldset { flex: 1 1 24rem; display: flex; flex-wrap: wrap; gap: 0.1rem 1.1rem; margin: 0; padding: 0; border: 0; }
  legend { padding: 0; font: 600 0.9375rem/1.5 var(--sans); }
  .tick { display: flex; align-items: center; gap: 0.45rem; min-height: 1.75rem; font: 0.9375rem/1.4 var(--sans); }
  input[type='checkbox'] { width: 1.25rem; height: 1.25rem; margin: 0.15rem; accent-color: var(--accent); }
  .narrowed { margin-top: 0.3rem; font-size: 0.9375rem; }
  .plain { font: inherit; color: var(--accent); background: none; border: 0; padding: 0 0.3rem; min-height: 24px; text-decoration: underline; text-underline-offset: 3px; cursor: pointer; }
  .ticked { position: sticky; bottom: 0; display: flex; flex-wrap: wrap; gap: 0.4rem 1rem; align-items: center; padding: 0.5rem 0; background: var(--paper); border-top: 1px solid var(--rule); }
  .panels { display: grid; grid-template-columns: repeat(auto-fit, minmax(170px, 1fr)); gap: 0.8rem 1.2rem; margin: 0.4rem 0; }
  figure { margin: 0; }
  figure svg { width: 100%; height: auto; }
  figcaption { display: flex; flex-wrap: wrap; gap: 0 0.5rem; align-items: baseline; font-size: 0.9375rem; }
  @media screen and (min-width: 1000px) { .two { grid-template-columns: 1fr 1fr; align-items: start; } }
  @media screen and (max-width: 760px) {
    .students table, .students tbody { display: block; }
    .students thead { display: none; }
    .narrow-only { display: grid; }
    .box th, .box td { white-space: nowrap; }
    .panels { grid-template-columns: 1fr 1fr; }
    tracks-view, tracks-view.together { min-height: 340px; height: 340px; }
    .students tr { display: grid; grid-template-columns: 1fr 1fr; gap: 0.2rem 1rem; padding: 0.7rem 0; border-bottom: 1px solid var(--rule); }
    .students tbody th, .students td { border: 0; padding: 0; }
    .students tbody th { grid-column: 1 / -1; font-weight: 600; }
    .students td::before { content: attr(data-label); display: block; font-size: 0.75rem; color: var(--quiet); }
  }
  @media print {
    :host { padding: 0; }
    nav, .choice, .filters, .figures, .ticked, .screen-only, .plain { display: none !important; }
    .paper-only { display: block; }
    .box { overflow: visible; }
    td, td a, th, th a, th button { font-size: 0.75rem; }
    .median { min-width: 0; }
    .spread { font-size: 0.625rem; }
    .spread-drawing { width: 2cm; height: auto; }
    .key { width: 0.8cm; }
    th, td { padding: 0.2rem 0.5rem 0.2rem 0; }
    tracks-view, tracks-view.together { min-height: 0; height: 9cm; }
    .panels { grid-template-columns: repeat(3, 1fr); }
    figure svg { max-height: 2.2cm; }
    * { color: black !important; }
    .half { fill: white; stroke: black; }
    .middle, .range, .axis, .track, .track.other { stroke: black; }
    .dot { fill: black; }
    tr, figure { break-inside: avoid; }
  }
`;

/** The page around it has the margins. */
export const insidePage = css`
  :host { padding: 0; }
`;
