// Addresses of the pages, and going from one to another without loading the document anew.
import { type CompareRoute, compareRoute } from './compareRoute.js';

export type Route =
  | { readonly page: 'fly' }
  | { readonly page: 'link' }
  | { readonly page: 'compare'; readonly choice: CompareRoute }
  | { readonly page: 'attempts'; readonly before: string | null }
  | { readonly page: 'attempt'; readonly attemptId: string }
  | { readonly page: 'unknown'; readonly path: string };

export function routeOf({ pathname, search }: { pathname: string; search: string }): Route {
  const parts = pathname.split('/').filter((part) => part !== '');
  if (parts.length === 0 || (parts[0] === 'fly' && parts.length === 1)) return { page: 'fly' };
  if (parts[0] === 'link' && parts.length === 1) return { page: 'link' };
  if (parts[0] === 'compare' && parts.length === 1) return { page: 'compare', choice: compareRoute(search) };
  if (parts[0] === 'debrief') {
    if (parts.length === 1) return { page: 'attempts', before: new URLSearchParams(search).get('before') };
    const attemptId = decoded(parts[1]);
    if (parts.length === 2 && attemptId !== null) return { page: 'attempt', attemptId };
  }
  return { page: 'unknown', path: pathname };
}

export const FLY_PATH = '/fly';
export const LINK_PATH = '/link';
export const ATTEMPTS_PATH = '/debrief';
export const attemptPath = (attemptId: string) => `${ATTEMPTS_PATH}/${encodeURIComponent(attemptId)}`;
export const attemptsPath = (before: string | null) =>
  before === null ? ATTEMPTS_PATH : `${ATTEMPTS_PATH}?${new URLSearchParams({ before })}`;

/** Goes to one of our pages; `popstate` tells the shell. */
export function goTo(path: string) {
  history.pushState(null, '', path);
  dispatchEvent(new PopStateEvent('popstate'));
}

/** The same page showing something else: focus and scrolling stay, and there is no step back to what it showed before. */
export function nowAt(path: string) {
  history.replaceState(null, '', path);
}

/** Keeps plain clicks on our own links inside the page; all others stay the browser's. */
export function followLinksInside(event: MouseEvent) {
  if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey)
    return;
  const link = event.composedPath().find((node): node is HTMLAnchorElement => node instanceof HTMLAnchorElement);
  if (!link || link.origin !== location.origin || link.target !== '' || link.hasAttribute('download')) return;
  if (routeOf(link).page === 'unknown') return;
  event.preventDefault();
  goTo(link.pathname + link.search);
}

function decoded(part: string | undefined): string | null {
  try {
    return part === undefined ? null : decodeURIComponent(part);
  } catch {
    return null;
  }
}
