// What the pages share: headings, controls, notices, hidden but readable words.
import { css } from 'lit';

export const pageStyles = css`
  *, *::before, *::after { box-sizing: border-box; }
  :host { display: block; padding: 0 var(--margin) 2rem; }
  :focus-visible { outline: 2px solid var(--accent); outline-offset: 2px; }
  h1, h2, h3, p { margin: 0; }
  h1 { font: 500 clamp(1.55rem, 2.2vw, 2rem) / 1.2 var(--serif); letter-spacing: -0.005em; text-wrap: balance; }
  h2 { font: 600 1rem / 1.4 var(--sans); }
  a { color: var(--accent); text-underline-offset: 3px; }
  .quiet { color: var(--quiet); }
  .unseen {
    position: absolute; width: 1px; height: 1px; margin: -1px; padding: 0; overflow: hidden;
    clip-path: inset(50%); white-space: nowrap; border: 0;
  }
  .button {
    display: inline-block; min-height: 2.5rem; padding: 0.5rem 1.1rem; border: 1px solid var(--edge); border-radius: 3px;
    background: var(--paper); color: var(--ink); font: 500 1rem / 1.4 var(--sans); text-decoration: none; cursor: pointer;
  }
  .button:hover { border-color: var(--ink); }
  .button.main { background: var(--accent); border-color: var(--accent); color: var(--on-accent); font-weight: 600; }
  .button.main:hover { background: color-mix(in oklab, var(--accent), var(--ink) 22%); }
  .button.alarm { border: 2px solid var(--alarm); color: var(--alarm); font-weight: 600; }
  .button:disabled { opacity: 0.55; cursor: default; }
  .loading { padding-top: 3rem; opacity: 0; animation: appear 0s 0.4s forwards; }
  @keyframes appear { to { opacity: 1; } }
  .notice { padding: 0.75rem 1rem; border-left: 4px solid var(--accent); background: var(--sheet); }
  .notice.alarm { border-left-color: var(--alarm); }
  .notice p + p, .notice .button { margin-top: 0.5rem; }
  .empty { max-width: 38rem; padding: 3rem 0; }
  .empty p { margin-top: 0.75rem; }
  .empty .button { margin-top: 1.25rem; }
  code { padding: 0.1em 0.35em; background: var(--sheet); border-radius: 2px; font-size: 0.9375em; }
`;
