// Layout of the page on which a link is taught.
import { css } from 'lit';

export const linkStyles = css`
  .intro { max-width: 52rem; padding-top: 1.4rem; }
  .intro p { margin-top: 0.4rem; }
  section { margin-top: 1.75rem; padding-top: 0.9rem; border-top: 1px solid var(--rule); }
  section > p { margin-top: 0.3rem; max-width: 44rem; }
  .fields { display: flex; flex-wrap: wrap; gap: 0.8rem; align-items: end; margin-top: 0.75rem; }
  .fields { max-width: 76rem; }
  .field { display: grid; gap: 0.25rem; min-width: 0; }
  .field label, legend { font: 600 0.9375rem/1.5 var(--sans); }
  .field.wide { flex: 1 1 16rem; }
  input[type='text'], input[type='number'], select {
    width: 100%; min-width: 0; height: 2.5rem; padding: 0 0.6rem; border: 1px solid var(--edge); border-radius: 3px;
    background: var(--paper); color: var(--ink); font: 1rem var(--sans);
  }
  .field.short { width: 8rem; }
  .check { display: flex; gap: 0.5rem; align-items: center; margin-top: 0.6rem; }
  .check input { width: 1.15rem; height: 1.15rem; accent-color: var(--accent); }
  .hearing { margin-top: 0.8rem; font-weight: 600; }
  .small { font-size: 0.8125rem; line-height: 1.4; }
  pre { margin: 0.6rem 0 0; padding: 0.6rem 0.8rem; background: var(--sheet); overflow-x: auto; font-size: 0.8125rem; white-space: pre-wrap; overflow-wrap: anywhere; }
  table { border-collapse: collapse; width: 100%; margin-top: 0.75rem; font-variant-numeric: tabular-nums; }
  th { text-align: left; font: 600 0.8125rem/1.5 var(--sans); color: var(--quiet); }
  th, td { padding: 0.3rem 0.8rem 0.3rem 0; border-bottom: 1px solid var(--rule); vertical-align: middle; }
  td.number { text-align: right; white-space: nowrap; min-width: 7rem; }
  td select { min-width: 9rem; max-width: 20rem; height: 2.25rem; }
  .suggestion { margin-top: 0.3rem; }
  td input::placeholder { color: transparent; }
  td input[type='number'] { width: 6.5rem; height: 2.25rem; }
  .moves { font-weight: 600; }
  .offers { display: flex; flex-wrap: wrap; gap: 0.5rem; margin-top: 0.6rem; }
  .button.little { min-height: 2rem; padding: 0.25rem 0.7rem; font-size: 0.9375rem; }
  .button[aria-disabled='true'] { color: var(--quiet); cursor: default; }
  .asked { margin-top: 0.75rem; font: 500 1.1875rem/1.35 var(--serif); }
  ul { margin: 0.5rem 0 0; padding-left: 1.2rem; max-width: 50rem; }
  li { margin-top: 0.25rem; }
  /* Said where the person is looking: the page is long. */
  .notice { position: sticky; top: 0; z-index: 1; margin-top: 0.9rem; }
  h3 { margin-top: 0.9rem; font: 600 0.9375rem/1.5 var(--sans); }
  th.number { text-align: right; }
  /* A row becomes two lines; the roles in the markup keep it a table to a screen reader. */
  @media (max-width: 40rem) {
    table, tbody { display: block; }
    thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
    tr { display: grid; grid-template-columns: 1fr auto; gap: 0.4rem 0.8rem; align-items: center; padding: 0.6rem 0; border-bottom: 1px solid var(--rule); }
    th, td { padding: 0; border: 0; }
    td.range { display: none; }
    .slots tr > td:last-child, .channels tr > td.cockpit { grid-column: 1 / -1; }
    td select { max-width: none; }
    .channels tr > td:last-child { grid-column: 1 / -1; }
    td.cockpit { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; }
    td input::placeholder { color: var(--quiet); }
  }
`;

/** The parts stand inside the page, which has the margins. */
export const linkPartStyles = css`
  :host { padding: 0; }
`;
