// What the taught link covers and lacks, and how it is kept: parts of the page Link.
import type { LinkProfile, Parsed } from '@stillprop/contracts';
import type { LinkCoverage } from '@stillprop/links';
import { html, nothing } from 'lit';
import { CHANNEL_WORDS, idOf, type LinkDraft } from './linkDraft.js';

/** What is covered in one line, and each missing channel with what is lost by it. */
export function coverageWords(coverage: LinkCoverage | null, profile: Parsed<LinkProfile>) {
  if (coverage === null) {
    return html`<p class="quiet">${profile.ok ? nothing : `${profile.problem.message}.`}</p>`;
  }
  const { covered, missing } = coverage;
  const needed = missing.filter(({ required }) => required);
  const rest = missing.filter(({ required }) => !required);
  return html`<p data-testid="flyable">${
    coverage.problem === null
      ? 'All that is needed is there: it can be flown.'
      : needed.length > 0
        ? `${needed.length} ${needed.length === 1 ? 'channel that is needed is' : 'channels that are needed are'} missing.`
        : `It cannot be flown yet: ${coverage.problem}.`
  }</p>
    ${covered.length > 0 ? html`<p class="small quiet">Covered: ${covered.map(({ channel }) => CHANNEL_WORDS[channel].split(',')[0]).join(', ')}.</p>` : nothing}
    ${needed.length > 0 ? html`<ul data-testid="needed">${needed.map(lost)}</ul>` : nothing}
    ${rest.length > 0 ? html`<h3>Can be done without</h3><ul data-testid="lost">${rest.map(lost)}</ul>` : nothing}`;
}

function lost({ channel, lost: what }: LinkCoverage['missing'][number]) {
  return html`<li><strong>${CHANNEL_WORDS[channel].split(',')[0]}.</strong> ${what}</li>`;
}

export interface SaveActions {
  change(draft: LinkDraft): void;
  save(profile: LinkProfile): void;
}

/** Name, and the two ways to keep it. */
export function saveFields(draft: LinkDraft, profile: Parsed<LinkProfile>, busy: boolean, actions: SaveActions) {
  const name = (event: Event) => {
    const typed = (event.target as HTMLInputElement).value;
    // A link that is changed keeps the id by which recordings know it.
    actions.change({ ...draft, name: typed, id: draft.base === null ? idOf(typed) : draft.id });
  };
  const named = draft.id !== '' && draft.name.trim() !== '';
  return html`<div class="fields">
      <div class="field wide"><label for="link-name">Name of the simulator</label>
        <input id="link-name" type="text" maxlength="200" autocomplete="off" data-testid="link-name" .value=${draft.name} @input=${name} /></div>
      <button class="button main" ?disabled=${busy || !named || !profile.ok} data-testid="save-link"
        @click=${() => profile.ok && actions.save(profile.value)}>Save the link</button>
      <button class="button" ?disabled=${!profile.ok} data-testid="download-link" @click=${() => profile.ok && download(profile.value)}>Download the file</button>
    </div>
    <p class="small quiet">${
      named
        ? `Kept as ${draft.id}.json. The file can be shared: it holds addresses and ports of your network, and nothing of your flights.`
        : 'Give it a name first.'
    }</p>`;
}

function download(profile: LinkProfile) {
  const url = URL.createObjectURL(new Blob([`${JSON.stringify(profile, null, 2)}\n`], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${profile.id}.json`;
  link.click();
  URL.revokeObjectURL(url);
}
