// The built pages: files as they are, and the one HTML page for every address that the pages themselves handle.
import { existsSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

const PAGE = 'index.html';
/** Where `npm run build` puts the pages; the same seen from src and from dist. */
const BUILT_PAGES = fileURLToPath(new URL('../../dist/web', import.meta.url));
/** Addresses of the pages. */
const ADDRESSES = ['/', '/fly', '/debrief', '/debrief/:id'];

/** Folder of the pages that were built with this package, if they were. */
export function builtPages(): string | undefined {
  return existsSync(join(BUILT_PAGES, PAGE)) ? BUILT_PAGES : undefined;
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
  for (const address of ADDRESSES) {
    app.get(address, { schema: { hide: true } }, (_, reply) => reply.sendFile(PAGE));
  }
}
