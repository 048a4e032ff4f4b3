// Element stillprop-app: header, navigation and the page that the address names.
import { html, LitElement, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { COMPARE_PATH } from '../compareRoute.js';
import { ATTEMPTS_PATH, FLY_PATH, followLinksInside, LINK_PATH, type Route, routeOf } from '../routes.js';
import { chooseTheme, currentTheme } from '../theme.js';

const TITLES: Partial<Record<Route['page'], string>> = { fly: 'Fly', link: 'Link', compare: 'Compare' };
const CAUTION = 'Simulator practice only. Not a licence to try it low in an aeroplane.';

/** Renders into the document itself, so that base.css and the skip link reach it. */
@customElement('stillprop-app')
export class StillpropApp extends LitElement {
  @state() private route: Route = routeOf(location);
  @state() private theme = currentTheme();
  private onRoute = () => {
    const before = this.route;
    this.route = routeOf(location);
    if (before.page !== this.route.page || before.page === 'attempt' || before.page === 'compare') {
      this.updateComplete.then(() => this.querySelector('main')?.focus({ preventScroll: true }));
      scrollTo(0, 0);
    }
  };

  protected override createRenderRoot() {
    return this;
  }
  override connectedCallback() {
    super.connectedCallback();
    addEventListener('popstate', this.onRoute);
    this.addEventListener('click', followLinksInside);
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    removeEventListener('popstate', this.onRoute);
    this.removeEventListener('click', followLinksInside);
  }

  override render() {
    const { page } = this.route;
    document.title = `${TITLES[page] ?? 'Debrief'} · Stillprop`;
    const other = this.theme === 'dark' ? 'light' : 'dark';
    return html`<button class="skip" @click=${() => this.querySelector('main')?.focus()}>Skip to the page</button>
      <header class="page-head">
        <a class="name" href=${FLY_PATH}>Stillprop</a>
        <nav aria-label="Pages">
          ${this.link(FLY_PATH, 'Fly', page === 'fly')}
          ${this.link(ATTEMPTS_PATH, 'Debrief', page === 'attempts' || page === 'attempt')}
          ${this.link(COMPARE_PATH, 'Compare', page === 'compare')}
          ${this.link(LINK_PATH, 'Link', page === 'link')}
        </nav>
        <p class="caution">${CAUTION}</p>
        <button class="theme" data-testid="theme" aria-label=${`Change to the ${other} page`} @click=${() => this.change(other)}>
          ${other === 'dark' ? 'Dark' : 'Light'}
        </button>
      </header>
      <main tabindex="-1">${this.page()}</main>`;
  }

  private page() {
    const { route } = this;
    switch (route.page) {
      case 'fly':
        import('../pages/flyPage.js');
        return html`<fly-page></fly-page>`;
      case 'link':
        import('../pages/linkPage.js');
        return html`<link-page></link-page>`;
      case 'compare':
        import('../pages/comparePage.js');
        return html`<compare-page .choice=${route.choice}></compare-page>`;
      case 'attempts':
        import('../pages/attemptsPage.js');
        return html`<attempts-page .cursor=${route.before}></attempts-page>`;
      case 'attempt':
        import('../pages/attemptPage.js');
        return html`<attempt-page .attemptId=${route.attemptId}></attempt-page>`;
      case 'unknown':
        import('../pages/unknownPage.js');
        return html`<unknown-page .path=${route.path}></unknown-page>`;
    }
  }

  private link(path: string, text: string, current: boolean) {
    return html`<a href=${path} aria-current=${current ? 'page' : nothing}>${text}</a>`;
  }

  private change(theme: 'light' | 'dark') {
    chooseTheme(theme);
    this.theme = theme;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'stillprop-app': StillpropApp;
  }
}
