// Element notes-list: what pilot and instructor wrote to an attempt, by moment, each leading to its moment.
import { inOrder, type Note } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { addNote, editNote, getNotes, removeNote } from '../api.js';
import { authorWords, fitsOnPaper, keepAuthor, momentWords } from '../noteWords.js';
import { pageStyles } from '../pageStyles.js';
import { dateWords } from '../words.js';
import './noteForm.js';
import type { Written } from './noteForm.js';
import { notesListStyles } from './notesListStyles.js';

/** What is being written: a new note, the same one however often it is sent, or another text for one that is there. */
type Draft =
  | ({ readonly kind: 'new' } & Pick<Note, 'id' | 'atS' | 'writtenAt'>)
  | { readonly kind: 'edit'; readonly note: Note };

const tenths = (valueS: number | null) => (valueS === null ? null : Math.round(valueS * 10));

/** @fires cursor-time - CustomEvent<number>: the moment (recording seconds) of a chosen note. */
@customElement('notes-list')
export class NotesList extends LitElement {
  static override styles = [pageStyles, notesListStyles];
  @property({ attribute: false }) attemptId = '';
  /** Where the charts count from (recording seconds). */
  @property({ attribute: false }) originS = 0;
  /** The moment that all pictures show, to which a new note is offered; while it plays, only its tenths are followed. */
  @property({ attribute: false, hasChanged: (now: number | null, old: number | null) => tenths(now) !== tenths(old) })
  cursorS: number | null = null;
  @state() private notes: readonly Note[] | null = null;
  @state() private draft: Draft | null = null;
  @state() private removed: Note | null = null;
  @state() private busy = false;
  @state() private problem: string | null = null;
  private loading: AbortController | undefined;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('attemptId')) this.load();
    const { notes } = this;
    this.toggleAttribute('data-unprinted', notes === null || notes.length === 0 || !fitsOnPaper(notes));
  }

  override render() {
    const { notes, draft, removed, problem } = this;
    return html`<h2>Notes</h2>
      ${notes === null || notes.length === 0 ? nothing : html`<ul data-testid="notes">${notes.map((note) => this.item(note))}</ul>`}
      ${
        removed === null
          ? nothing
          : html`<p class="said" role="status" data-testid="note-removed">Note removed. <button class="plain act" @click=${() => this.putBack(removed)}>Undo</button></p>`
      }
      ${
        problem === null || draft !== null
          ? nothing
          : html`<div class="notice alarm" role="alert" data-testid="notes-problem"><p>${problem}</p>
          ${notes === null ? html`<button class="button" @click=${() => this.load()}>Try again</button>` : nothing}</div>`
      }
      ${draft?.kind === 'new' ? this.form(draft) : nothing}
      ${
        draft !== null || notes === null
          ? nothing
          : html`<button class="button add" data-testid="add-note" @click=${this.begin}>Add a note${this.cursorS === null ? '' : ` at ${this.moment(this.cursorS)}`}</button>`
      }`;
  }

  private item(note: Note) {
    if (this.draft?.kind === 'edit' && this.draft.note.id === note.id) return html`<li>${this.form(this.draft)}</li>`;
    const where = note.atS === null ? 'Whole attempt' : `At ${this.moment(note.atS)}`;
    const held = this.busy || this.draft !== null; // what is being written must not be lost by a click elsewhere
    return html`<li data-testid="note">
      <p class="text" data-testid="note-words">${note.text}</p>
      <p class="by quiet">
        ${note.atS === null ? html`<span>${where}</span>` : html`<button class="plain" data-testid="note-moment" @click=${() => this.tellMoment(note.atS)}>${where}<span class="unseen">: show the moment</span></button>`}
        <span>${authorWords(note)}, ${dateWords(note.writtenAt)}</span>
        <button class="plain act" data-testid="note-edit" ?disabled=${held} @click=${() => this.open({ kind: 'edit', note })}>Edit<span class="unseen"> the note: ${note.text}</span></button>
        <button class="plain act" data-testid="note-remove" ?disabled=${held} @click=${() => this.takeAway(note)}>Remove<span class="unseen"> the note: ${note.text}</span></button>
      </p>
    </li>`;
  }

  private form(draft: Draft) {
    const moment = draft.kind === 'new' && draft.atS !== null ? this.moment(draft.atS) : null;
    return html`<note-form .moment=${moment} .note=${draft.kind === 'edit' ? draft.note : null} .busy=${this.busy} .problem=${this.problem}
      @write=${(event: CustomEvent<Written>) => this.write(draft, event.detail)} @give-up=${this.close}></note-form>`;
  }

  private moment(atS: number) {
    return momentWords(atS - this.originS);
  }

  private tellMoment(atS: number | null) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }

  private begin() {
    const atS = this.cursorS === null ? null : Math.round(this.cursorS * 100) / 100;
    this.open({ kind: 'new', id: crypto.randomUUID(), atS, writtenAt: new Date().toISOString() });
  }

  private open(draft: Draft) {
    this.draft = draft;
    this.problem = null;
    this.removed = null;
  }

  /** Ends writing; the keyboard goes on where it began. */
  private async close() {
    this.draft = null;
    this.problem = null;
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>('.add')?.focus();
  }

  private async write(draft: Draft, { text, author, name, whole }: Written) {
    const { attemptId } = this;
    const done = await this.attempt(async () => {
      if (draft.kind === 'edit') return editNote(attemptId, draft.note.id, text);
      keepAuthor({ author, name });
      const { id, writtenAt } = draft;
      return addNote(attemptId, { id, atS: whole ? null : draft.atS, author, name, text, writtenAt });
    });
    if (!done) return;
    this.put(done);
    await this.close();
  }

  private async takeAway(note: Note) {
    const { attemptId } = this;
    const done = await this.attempt(() => removeNote(attemptId, note.id));
    if (!done) return;
    this.notes = (this.notes ?? []).filter(({ id }) => id !== note.id);
    this.removed = done;
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>('.said button')?.focus();
  }

  private async putBack(note: Note) {
    const { attemptId } = this;
    const done = await this.attempt(() => addNote(attemptId, note));
    if (!done) return;
    this.removed = null;
    this.put(done);
    await this.close();
  }

  private put(note: Note) {
    this.notes = inOrder([...(this.notes ?? []).filter(({ id }) => id !== note.id), note]);
  }

  /** Has the server do one thing at a time; what it refuses is told, and what was typed stays. */
  private async attempt(ask: () => Promise<Note>): Promise<Note | undefined> {
    if (this.busy) return undefined;
    const { attemptId } = this;
    this.busy = true;
    this.problem = null;
    try {
      const note = await ask();
      return this.attemptId === attemptId ? note : undefined;
    } catch (error) {
      if (this.attemptId === attemptId) this.problem = (error as Error).message;
      return undefined;
    } finally {
      this.busy = false;
    }
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    this.notes = null;
    this.draft = null;
    this.removed = null;
    this.problem = null;
    try {
      this.notes = (await getNotes(this.attemptId, loading.signal)).notes;
    } catch (error) {
      if (!loading.signal.aborted) this.problem = (error as Error).message;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'notes-list': NotesList;
  }
}
