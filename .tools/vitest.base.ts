// What every package's tests share: source instead of builds, one seed, one JSON report that `npm test` counts.
import { fileURLToPath } from 'node:url';
import { defineConfig, mergeConfig, type ViteUserConfig } from 'vitest/config';

/** Vitest settings of one package; `own` is merged over the shared ones, `report` names the file of its counts. */
export function packageTests(name: string, own: ViteUserConfig = {}, report = 'tests'): ViteUserConfig {
  return mergeConfig(
    defineConfig({
      resolve: { conditions: ['source', 'module', 'browser', 'development|production'] },
      ssr: { resolve: { conditions: ['source', 'node', 'development|production'] } },
      test: {
        name,
        include: ['src/**/*.test.ts'],
        setupFiles: [fileURLToPath(new URL('propertySeed.ts', import.meta.url))],
        // There to end a test that hangs, never to judge how fast a machine is.
        testTimeout: 120_000,
        hookTimeout: 120_000,
        reporters: ['default', ['json', { outputFile: `reports/${report}.json` }]],
        benchmark: { include: ['src/**/*.bench.ts'] },
      },
    }),
    own,
  );
}
