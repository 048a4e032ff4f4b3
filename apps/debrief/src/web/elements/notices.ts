// What stands in place of data: loading, and what went wrong with how to go on.
import { html, type TemplateResult } from 'lit';
import { ApiFailure } from '../api.js';

/** Shown only when loading takes long enough to be noticed (the style waits). */
export function loadingNotice(text: string): TemplateResult {
  return html`<p class="quiet loading" role="status">${text}</p>`;
}

/** An error in words, with a button to try again. */
export function failureNotice(failure: unknown, retry: () => void): TemplateResult {
  const unreachable = failure instanceof ApiFailure && failure.kind === 'unreachable';
  return html`<div class="empty" role="alert" data-testid="failure">
    <h1>${unreachable ? 'The debrief server cannot be reached.' : 'This could not be shown.'}</h1>
    <p class="quiet">${
      unreachable
        ? html`Nothing recorded is lost: the bridge keeps recordings until the server has them. See that
            <code>npx stillprop start</code> is still running, then try again.`
        : failure instanceof Error
          ? sentence(failure.message)
          : 'The reason is not known.'
    }</p>
    <button class="button" @click=${retry}>Try again</button>
  </div>`;
}

/** The server's reasons begin small and end open, as they stand in a log. */
function sentence(reason: string): string {
  return `${reason.charAt(0).toUpperCase()}${reason.slice(1)}${/[.!?]$/.test(reason) ? '' : '.'}`;
}
