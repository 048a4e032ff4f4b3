// Element note-form: writes a note, or changes the text of one.
import { LONGEST_NOTE, type Note, NoteText } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { type Author, lastAuthor } from '../noteWords.js';
import { pageStyles } from '../pageStyles.js';
import { notesListStyles } from './notesListStyles.js';

/** What was written; author and place are not changed afterwards. */
export interface Written extends Author {
  readonly text: string;
  /** To the whole attempt, not to the moment offered. */
  readonly whole: boolean;
}

/**
 * @fires write - CustomEvent<Written>
 * @fires give-up - Nothing is to be written.
 */
@customElement('note-form')
export class NoteForm extends LitElement {
  static override styles = [pageStyles, notesListStyles];
  /** `+12.4 s`; null: there is no moment, the note goes to the whole attempt. */
  @property({ attribute: false }) moment: string | null = null;
  /** The note whose text is changed; null: a new one. */
  @property({ attribute: false }) note: Note | null = null;
  @property({ attribute: false }) busy = false;
  /** Why it could not be kept; null: nothing is wrong. */
  @property({ attribute: false }) problem: string | null = null;
  @state() private emptied = false;
  @query('textarea') private area!: HTMLTextAreaElement;
  private readonly author = lastAuthor();

  override firstUpdated() {
    this.area.focus();
  }

  override render() {
    const { note, moment, author } = this;
    const problem = this.emptied ? 'A note needs a text.' : this.problem;
    return html`<form @submit=${this.submit} novalidate>
      <label>${note ? 'Text of the note' : moment === null ? 'Note to the whole attempt' : `Note at ${moment}`}
        <textarea data-testid="note-text" name="text" rows="3" maxlength=${LONGEST_NOTE} aria-invalid=${this.emptied} .value=${note?.text ?? ''}></textarea></label>
      ${
        note
          ? nothing
          : html`<div class="row">
              <label>From<select name="author" data-testid="note-author">
                <option value="pilot" ?selected=${author.author === 'pilot'}>the pilot</option>
                <option value="instructor" ?selected=${author.author === 'instructor'}>the instructor</option>
              </select></label>
              <label>Name, if you like<input name="name" data-testid="note-name" maxlength="80" autocomplete="off" .value=${author.name ?? ''} /></label>
            </div>
            ${moment === null ? nothing : html`<label class="tick"><input type="checkbox" name="whole" data-testid="note-whole" />To the whole attempt, not to ${moment}</label>`}`
      }
      ${problem === null ? nothing : html`<p class="notice alarm" role="alert" data-testid="note-problem">${problem}</p>`}
      <div class="row">
        <button class="button main" data-testid="note-save" ?disabled=${this.busy}>Save the note</button>
        <button class="button" type="button" @click=${() => this.dispatchEvent(new CustomEvent('give-up'))}>Cancel</button>
      </div>
    </form>`;
  }

  private submit(event: SubmitEvent) {
    event.preventDefault();
    if (this.busy) return;
    const fields = new FormData(event.target as HTMLFormElement);
    const text = NoteText.safeParse(fields.get('text'));
    this.emptied = !text.success;
    if (!text.success) return this.area.focus();
    const name = String(fields.get('name') ?? '').trim();
    const detail: Written = {
      text: text.data,
      author: fields.get('author') === 'instructor' ? 'instructor' : 'pilot',
      name: name === '' ? null : name,
      whole: this.moment === null || fields.get('whole') === 'on',
    };
    this.dispatchEvent(new CustomEvent('write', { detail }));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'note-form': NoteForm;
  }
}
