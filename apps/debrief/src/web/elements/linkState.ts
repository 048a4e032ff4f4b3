// State of a link in words with a shape of its own: the colour only repeats it.
import type { LiveState } from '@stillprop/contracts';
import { html, svg } from 'lit';
import { linkWords } from '../words.js';

const SHAPES: Readonly<Record<LiveState['link']['state'], ReturnType<typeof svg>>> = {
  receiving: svg`<circle cx="8" cy="8" r="6" fill="var(--accent)"></circle>`,
  silent: svg`<circle cx="8" cy="8" r="5.5" fill="none" stroke="var(--ink)" stroke-width="1.75" stroke-dasharray="3 2.5"></circle>`,
  stale: svg`<path d="M8 1.5L15 14H1Z" fill="var(--alarm)"></path>`,
  closed: svg`<path d="M3 3H13V13H3Z" fill="none" stroke="var(--quiet)" stroke-width="1.75"></path>`,
};

export function linkState(link: LiveState['link']) {
  return html`<span class="link-state" data-testid="link-state" style="display:inline-flex;align-items:center;gap:.5rem">
    <svg width="16" height="16" style="flex:none" viewBox="0 0 16 16" aria-hidden="true">${SHAPES[link.refusing ? 'stale' : link.state]}</svg>${linkWords(link)}</span>`;
}
