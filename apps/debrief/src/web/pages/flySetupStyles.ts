// Layout of the choice of scenario, link and pilot.
import { css } from 'lit';

export const flySetupStyles = css`
  :host { padding: 0; }
  form { display: grid; gap: 1.25rem; padding-top: 1.4rem; }
  .intro { max-width: 44rem; }
  .intro p { margin-top: 0.4rem; }
  fieldset { border: 0; margin: 0; padding: 0; min-width: 0; }
  legend, .field label { padding: 0; font: 600 0.9375rem/1.5 var(--sans); }
  .field label .quiet { font-weight: 400; }
  .scenario {
    display: grid; grid-template-columns: 1.15rem 1fr; column-gap: 0.7rem; padding: 0.75rem 0.9rem 0.8rem; border-top: 1px solid var(--rule);
    border-left: 3px solid transparent; cursor: pointer;
  }
  .scenario:last-child { border-bottom: 1px solid var(--rule); }
  .scenario:hover { background: var(--sheet); }
  .scenario.chosen { background: var(--sheet); border-left-color: var(--accent); }
  .scenario input { grid-row: 1 / span 3; width: 1.15rem; height: 1.15rem; margin: 0.25rem 0 0; accent-color: var(--accent); }
  .scenario > span { grid-column: 2; }
  .name { font: 500 1.1875rem/1.35 var(--serif); }
  .briefing { display: none; margin-top: 0.4rem; font-size: 0.9375rem; line-height: 1.5; max-width: 36rem; }
  .chosen .briefing { display: block; }
  .small { font-size: 0.8125rem; line-height: 1.4; }
  details ul { margin: 0.35rem 0 0; padding-left: 1.1rem; }
  .way { display: grid; gap: 1rem; align-content: start; }
  .pair { display: grid; grid-template-columns: 1fr 7.5rem; gap: 0.8rem; }
  .field { display: grid; gap: 0.25rem; min-width: 0; }
  select, input[type='text'] {
    width: 100%; min-width: 0; height: 2.5rem; padding: 0 0.6rem; border: 1px solid var(--edge); border-radius: 3px; background: var(--paper);
    color: var(--ink); font: 1rem var(--sans); text-overflow: ellipsis;
  }
  .go { min-height: 3.25rem; font-size: 1.1875rem; margin-top: 0.25rem; }
  @media (min-width: 860px) {
    form { grid-template-columns: minmax(0, 1.25fr) minmax(20rem, 0.85fr); column-gap: 3rem; }
    .intro { grid-column: 1 / -1; max-width: none; }
  }
`;
