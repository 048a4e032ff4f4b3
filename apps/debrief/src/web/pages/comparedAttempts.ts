// What the elements share that show attempts beside each other: reading them, and again when the server is back.
import { LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import { liveFeed } from '../liveFeed.js';
import { type Loaded, loadTogether } from './compareLoaded.js';

export abstract class ComparedAttempts extends LitElement {
  @property({ attribute: false }) attemptIds: readonly string[] = [];
  @state() private loaded: readonly Loaded[] | null = null;
  @state() private failure: unknown = null;
  private loading: AbortController | undefined;
  private onBack = () => {
    if (this.failure) this.load();
  };

  /** @param loaded At least one, the oldest first. */
  protected abstract shown(loaded: readonly [Loaded, ...Loaded[]]): TemplateResult;

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('back', this.onBack);
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('back', this.onBack);
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('attemptIds')) this.load();
  }

  override render() {
    if (this.failure) return failureNotice(this.failure, () => this.load());
    const [first, ...others] = this.loaded ?? [];
    return first ? this.shown([first, ...others]) : loadingNotice('Reading the attempts …');
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    this.loaded = null;
    this.failure = null;
    try {
      const loaded = await loadTogether(this.attemptIds, loading.signal);
      if (!loading.signal.aborted) this.loaded = loaded;
    } catch (error) {
      if (!loading.signal.aborted) this.failure = error;
    }
  }
}
