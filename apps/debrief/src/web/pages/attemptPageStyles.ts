// Layout of an attempt: two columns where there is room, the pictures kept in sight; one column on a phone.
import { css } from 'lit';

export const attemptPageStyles = css`
  .head { padding-top: 1.1rem; }
  .facts { margin-top: 0.5rem; font-size: 0.875rem; line-height: 1.45; text-wrap: pretty; }
  .head .notice { margin-top: 0.7rem; font-size: 0.875rem; }
  .score-line {
    display: grid; grid-template-columns: auto 1fr; gap: 0 1.2rem; align-items: start; margin-top: 0.75rem; padding: 0.7rem 0 0.55rem;
    border-top: 1px solid var(--rule); border-bottom: 1px solid var(--rule);
  }
  .overall { font: 400 3.75rem/0.95 var(--serif); min-width: 4.1rem; }
  .overall.none { font: 500 1.5rem/1.2 var(--serif); max-width: 6rem; }
  .reasons { font-size: 0.875rem; line-height: 1.4; }
  .held { font-weight: 600; }
  .findings { padding: 0.6rem 0 0; border-top: 1px solid var(--rule); }
  .findings h2, .rest h2 { font-size: 0.9375rem; }
  .small { font-size: 0.8125rem; }
  .rest { padding-top: 1.4rem; }
  .rest section + section { margin-top: 1.4rem; }
  footer { padding-top: 1.5rem; display: grid; gap: 1rem; }
  nav { display: flex; flex-wrap: wrap; gap: 0.6rem; }
  .plan { display: grid; height: 300px; margin-top: 1rem; }
  .time { display: grid; height: 680px; margin-top: 1rem; }
  .plan:has(plan-view), .time:has(time-charts) { height: auto; }
  .profile { display: grid; height: 190px; margin-top: 1rem; }
  .profile:has(profile-view) { height: auto; }
  profile-view { min-height: 180px; }
  .bar { display: flex; flex-wrap: wrap; gap: 0.4rem 1rem; align-items: center; margin-top: 1rem; }
  .ghost { display: inline-flex; gap: 0.4rem; align-items: center; min-height: 24px; font-size: 0.875rem; color: var(--quiet); }
  .ghost input { accent-color: var(--accent); }
  plan-view { min-height: 225px; }
  time-charts { min-height: 660px; }
  @media (min-width: 1000px) {
    article {
      display: grid; grid-template-columns: minmax(25rem, 0.62fr) 1fr; grid-template-rows: auto auto auto 1fr; column-gap: 2.25rem;
    }
    .head, .criteria, .findings, .rest { grid-column: 1; }
    .pictures {
      grid-column: 2; grid-row: 1 / span 4; position: sticky; top: min(0px, calc(100dvh - 48rem)); align-self: start; display: grid;
      grid-template-rows: auto minmax(300px, 1.5fr) minmax(180px, 1fr) minmax(125px, 0.6fr); min-height: max(47rem, calc(100dvh - 3.2rem)); max-height: max-content;
      padding: 0.9rem 0 0.4rem;
    }
    .time { order: 1; }
    .plan { order: 2; }
    .profile { order: 3; }
    .bar { margin: 0 0 0.4rem; }
    .plan, .time, .profile { height: auto; margin: 0; min-height: 0; }
    plan-view, time-charts, profile-view { min-height: 0; }
  }
  @page { size: A4; margin: 10mm; }
  /* One sheet: the two columns of a wide screen, drawn smaller. */
  @media print {
    :host { padding: 0; }
    article {
      display: grid; grid-template-columns: minmax(25rem, 0.62fr) 1fr; grid-template-rows: auto auto auto 1fr; column-gap: 2.25rem; zoom: 0.58;
    }
    .head, .criteria, .findings, .rest { grid-column: 1; }
    .pictures { grid-column: 2; grid-row: 1 / span 4; position: static; display: grid; grid-template-rows: 420px 260px 180px; padding: 0.9rem 0; }
    .time { order: 1; }
    .plan { order: 2; }
    .profile { order: 3; }
    .plan, .time, .profile { height: auto; margin: 0; min-height: 0; }
    plan-view, time-charts, profile-view { min-height: 0; }
    .bar, nav, pilot-errors { display: none; }
  }
`;
