// Look of the notes: as the findings, with a form below; on paper the notes alone, and only where they fit.
import { css } from 'lit';

export const notesListStyles = css`
  :host { padding: 0; }
  h2 { font-size: 0.9375rem; }
  ul { list-style: none; margin: 0 0 0.5rem; padding: 0; }
  li { padding: 0.4rem 0; font-size: 0.875rem; line-height: 1.4; }
  li + li { border-top: 1px solid var(--rule); }
  .text { white-space: pre-wrap; overflow-wrap: anywhere; }
  .by { display: flex; flex-wrap: wrap; gap: 0 0.7rem; align-items: baseline; font-size: 0.8125rem; }
  .plain {
    min-height: 24px; padding: 0; border: 0; background: none; color: var(--accent); font: inherit; cursor: pointer;
    text-decoration: underline; text-underline-offset: 3px;
  }
  .plain:disabled { color: var(--quiet); text-decoration: none; cursor: default; }
  .button { min-height: 2rem; padding: 0.2rem 0.75rem; font-size: 0.9375rem; }
  .add { margin-top: 0.4rem; }
  form { display: grid; gap: 0.6rem; max-width: 38rem; margin-top: 0.4rem; padding: 0.75rem 1rem; background: var(--sheet); }
  label { display: grid; gap: 0.2rem; font-size: 0.875rem; }
  label.tick { display: flex; gap: 0.4rem; align-items: center; min-height: 24px; }
  label.tick input { accent-color: var(--accent); }
  .row { display: flex; flex-wrap: wrap; gap: 0.6rem 1rem; align-items: end; }
  textarea, select, input:not([type="checkbox"]) {
    min-height: 2rem; padding: 0.25rem 0.5rem; border: 1px solid var(--edge); border-radius: 3px; background: var(--paper); color: var(--ink);
    font: 0.9375rem/1.4 var(--sans);
  }
  textarea { width: 100%; min-height: 4.5rem; resize: vertical; }
  .said { margin-top: 0.4rem; font-size: 0.875rem; }
  .notice { font-size: 0.875rem; }
  @media print {
    :host([data-unprinted]) { display: none; }
    :host { margin-bottom: 1.4rem; }
    .plain.act, .add, form, .said, .notice { display: none; }
    .plain { color: inherit; text-decoration: none; }
  }
`;
