// The built pages: files as they are, and the one HTML page for every address that the pages themselves handle.
import { existsSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { preloads } from './preloads.js';

const PAGE = 'index.html';
/** Where `npm run build` puts the pages; the same seen from src and from dist. */
const BUILT_PAGES = fileURLToPath(new URL('../../dist/web', import.meta.url));
/** Addresses of the pages. */
const ADDRESSES = ['/', '/fly', '/link', '/compare', '/debrief', '/debrief/:id'];

/** Folder of the pages that were built with this package, if they were. */
export function builtPages(): string | undefined {
  return existsSync(join(BUILT_PAGES, PAGE)) ? BUILT_PAGES : undefined;
}

/** Answers with the one HTML page, which shows what its address names, or that it names nothing. */
export function sendPage(reply: FastifyReply): FastifyReply {
  return reply.sendFile(PAGE);
}

/** Does a browser ask for something to show? Programs do not ask for HTML by name. */
export function wantsPage({ method, url, headers }: FastifyRequest): boolean {
  return method === 'GET' && !url.startsWith('/api/') && /\btext\/html\b/.test(headers.accept ?? '');
}

export function servePages(app: FastifyInstance, webDir: string): void {
  if (!existsSync(join(webDir, PAGE))) {
    throw new Error(`The pages are not built: ${join(webDir, PAGE)} is missing; run npm run build`);
  }
  app.register(fastifyStatic, {
    root: webDir,
    cacheControl: false,
    dotfiles: 'ignore',
    index: false,
    setHeaders(reply, path) {
      // Files under assets carry a hash of their contents in their name: they never change.
      const forever = path.includes(`${sep}assets${sep}`);
      reply.setHeader('cache-control', forever ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  const linksOf = preloads(webDir);
  for (const address of ADDRESSES) {
    app.get<{ Params: { id?: string } }>(address, { schema: { hide: true } }, ({ params }, reply) => {
      const links = linksOf(address, params.id);
      return sendPage(links === undefined ? reply : reply.header('link', links));
    });
  }
}
