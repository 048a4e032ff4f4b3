// What a page will ask for, told to the browser with the page itself, so that it is all fetched at once.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AttemptId, DEBRIEF_TRACE_POINTS } from '@stillprop/contracts';
import { z } from 'zod';

/** Vite's list of what it built: by source file, the file it became and the sources that this one imports. */
const Manifest = z.record(
  z.string(),
  z.object({ file: z.string(), imports: z.array(z.string()).default([]), css: z.array(z.string()).default([]) }),
);
type Manifest = z.infer<typeof Manifest>;
const MANIFEST = '.vite/manifest.json';

/** The module of each address of the pages. */
const MODULES: Readonly<Record<string, string>> = {
  '/': 'pages/flyPage.ts',
  '/fly': 'pages/flyPage.ts',
  '/link': 'pages/linkPage.ts',
  '/compare': 'pages/comparePage.ts',
  '/debrief': 'pages/attemptsPage.ts',
  '/debrief/:id': 'pages/attemptPage.ts',
};

/**
 * @param webDir Folder of the built pages; without a list of what was built there, no scripts are named.
 * @returns The Link header of an address, with the id in it where it has one; undefined: nothing to tell.
 */
export function preloads(webDir: string): (address: string, id?: string) => string | undefined {
  const path = join(webDir, MANIFEST);
  const manifest = existsSync(path) ? Manifest.parse(JSON.parse(readFileSync(path, 'utf8'))) : {};
  const scripts = Object.fromEntries(
    Object.entries(MODULES).map(([address, module]) => [address, [...filesOf(manifest, module)]]),
  );
  return (address, id) => {
    const links = (scripts[address] ?? []).map((file) => `</${file}>; rel=modulepreload`);
    if (id !== undefined && AttemptId.safeParse(id).success) {
      for (const path of [`/api/attempts/${id}`, `/api/attempts/${id}/trace?maxPoints=${DEBRIEF_TRACE_POINTS}`])
        links.push(`<${path}>; rel=preload; as=fetch; crossorigin=anonymous`);
    }
    return links.length === 0 ? undefined : links.join(', ');
  };
}

/** Files of a module and of all that it imports. */
function filesOf(manifest: Manifest, module: string, found = new Set<string>()): Set<string> {
  const chunk = manifest[module];
  if (chunk === undefined || found.has(chunk.file)) return found;
  found.add(chunk.file);
  for (const other of chunk.imports) filesOf(manifest, other, found);
  return found;
}
