// Element notes-list: what pilot and instructor wrote to an attempt, by moment, each leading to its moment; and writing it.
import { inOrder, type Note } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { addNote, editNote, removeNote } from '../notesApi.js';
import { authorWords, fitsOnPaper, keepAuthor } from '../noteWords.js';
import { pageStyles } from '../pageStyles.js';
import { dateWords, momentWords } from '../words.js';
import './noteForm.js';
import type { Written } from './noteForm.js';
import { notesListStyles } from './notesListStyles.js';

/** What is being written: a new note, the same one however often it is sent, or another text for one that is there. */
type Draft =
  | ({ readonly kind: 'new' } & Pick<Note, 'id' | 'atS' | 'writtenAt'>)
  | { readonly kind: 'edit'; readonly note: Note };

/** @fires cursor-time - CustomEvent<number>: the moment (recording seconds) of a chosen note. */
@customElement('notes-list')
export class NotesList extends LitElement {
  static override styles = [pageStyles, notesListStyles];
  @property({ attribute: false }) attemptId = '';
  /** Where the charts count from (recording seconds). */
  @property({ attribute: false }) originS = 0;
  /** The moment that all pictures show, since the origin, to which a new note is offered. */
  @property({ attribute: false }) sinceS: number | null = null;
  /** As they were read; from then on this element keeps them. */
  @property({ attribute: false }) notes: readonly Note[] = [];
  /** Whether a new note is to be written at once. */
  @property({ attribute: false }) begun = false;
  @state() private draft: Draft | null = null;
  @state() private removed: Note | null = null;
  @state() private busy = false;
  @state() private problem: string | null = null;

  override willUpdate() {
    if (!this.hasUpdated && this.begun) this.begin();
    this.toggleAttribute('data-unprinted', this.notes.length === 0 || !fitsOnPaper(this.notes));
  }

  override render() {
    const { notes, draft, removed, problem } = this;
    return html`<h2>Notes</h2>
      ${notes.length === 0 ? nothing : html`<ul data-testid="notes">${notes.map((note) => this.item(note))}</ul>`}
      ${
        removed === null
          ? nothing
          : html`<p class="said" role="status" data-testid="note-removed">Note removed. <button class="plain act" @click=${() => this.putBack(removed)}>Undo</button></p>`
      }
      ${
        problem === null || draft !== null
          ? nothing
          : html`<p class="notice alarm" role="alert" data-testid="notes-problem">${problem}</p>`
      }
      ${draft?.kind === 'new' ? this.form(draft) : nothing}
      ${
        draft !== null
          ? nothing
          : html`<button class="button add" data-testid="add-note" @click=${this.begin}>Add a note${this.sinceS === null ? '' : ` at ${momentWords(this.sinceS)}`}</button>`
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
    const atS = this.sinceS === null ? null : Math.round((this.originS + this.sinceS) * 1000) / 1000;
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
    this.notes = this.notes.filter(({ id }) => id !== note.id);
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
    this.notes = inOrder([...this.notes.filter(({ id }) => id !== note.id), note]);
  }

  /** Has the server do one thing at a time; what it refuses is told, and what was typed stays. */
  private async attempt(ask: () => Promise<Note>): Promise<Note | undefined> {
    if (this.busy) return undefined;
    this.busy = true;
    this.problem = null;
    try {
      return await ask();
    } catch (error) {
      this.problem = (error as Error).message;
      return undefined;
    } finally {
      this.busy = false;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'notes-list': NotesList;
  }
}
