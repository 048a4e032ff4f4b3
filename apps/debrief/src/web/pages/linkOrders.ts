// Element link-orders: how the simulator is told to fail and restore, each with a button that tries it.
import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { type LinkDraft, TAUGHT_COMMANDS, type TaughtCommand } from './linkDraft.js';
import { linkPartStyles, linkStyles } from './linkStyles.js';

const WORDS: Readonly<Record<TaughtCommand, string>> = {
  fail: 'Fail the engine',
  restore: 'Give the power back',
  setPower: 'Set the power, with {powerFraction}',
  throttle: 'Set the throttle, with {throttleFraction}',
  reset: 'Back to the start',
  pause: 'Pause',
};

/** @fires draft - CustomEvent<LinkDraft>. @fires try-command - CustomEvent<TaughtCommand>: send it once. */
@customElement('link-orders')
export class LinkOrders extends LitElement {
  static override styles = [pageStyles, linkStyles, linkPartStyles];
  @property({ attribute: false }) draft!: LinkDraft;
  @property({ attribute: false }) canTry = false;
  /** A command may go back over the connection on which the simulator speaks. */
  @property({ attribute: false }) goesBack = false;
  /** Address from which it sends; null: nothing came yet. */
  @property({ attribute: false }) sender: string | null = null;

  override render() {
    const { draft } = this;
    return html`<div class="fields">
        <div class="field"><label for="command-host">Address of the simulator</label>
          <input id="command-host" type="text" .value=${draft.commandHost} @input=${(event: Event) => this.tell({ commandHost: typedIn(event) })} /></div>
        <div class="field short"><label for="command-port">UDP port${this.goesBack ? ', or none' : nothing}</label>
          <input id="command-port" type="text" inputmode="numeric" data-testid="command-port" .value=${draft.commandPort}
            @input=${(event: Event) => this.tell({ commandPort: typedIn(event) })} /></div>
        ${
          this.sender === null || this.sender === draft.commandHost
            ? nothing
            : html`<button class="button" data-testid="use-sender" @click=${() => this.tell({ commandHost: this.sender ?? '' })}>It sends from ${this.sender}: use that</button>`
        }
      </div>
      ${TAUGHT_COMMANDS.map((name) => this.command(name))}
      <div class="fields"><div class="field wide"><label for="no-command">If it has no command for a failure</label>
        <select id="no-command" @change=${(event: Event) => this.tell({ noFailureCommand: typedIn(event) as LinkDraft['noFailureCommand'] })}>
          <option value="" ?selected=${draft.noFailureCommand === ''}>it has one</option>
          <option value="by-hand" ?selected=${draft.noFailureCommand === 'by-hand'}>the instructor closes the throttle by hand when told</option>
          <option value="cut-throttle" ?selected=${draft.noFailureCommand === 'cut-throttle'}>the throttle command above closes it</option>
        </select></div></div>`;
  }

  private command(name: TaughtCommand) {
    const text = this.draft.commands[name] ?? '';
    if (typeof this.draft.base?.commands?.[name] === 'object') {
      return html`<p class="small">${WORDS[name]}: bytes, as in the file. They are kept.</p>`;
    }
    return html`<div class="fields">
      <div class="field wide"><label for="command-${name}">${WORDS[name]}</label>
        <input id="command-${name}" type="text" maxlength="500" autocomplete="off" spellcheck="false" data-testid="command-${name}" .value=${text}
          @input=${(event: Event) => this.tell({ commands: { ...this.draft.commands, [name]: typedIn(event) } })} /></div>
      <button class="button" ?disabled=${text === '' || !this.canTry} data-testid="try-${name}" aria-label="Test: ${WORDS[name]}"
        @click=${() => this.dispatchEvent(new CustomEvent('try-command', { detail: name }))}>Test</button>
    </div>`;
  }

  private tell(part: Partial<LinkDraft>) {
    this.dispatchEvent(new CustomEvent('draft', { detail: { ...this.draft, ...part } }));
  }
}

const typedIn = (event: Event) => (event.target as HTMLInputElement | HTMLSelectElement).value;

declare global {
  interface HTMLElementTagNameMap {
    'link-orders': LinkOrders;
  }
}
