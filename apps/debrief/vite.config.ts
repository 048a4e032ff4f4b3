// Builds the pages from src/web into dist/web; in development, passes API calls on to a debrief server.
import { defineConfig } from 'vite';

const SERVER = 'http://127.0.0.1:47180';

export default defineConfig({
  root: 'src/web', // from the package's folder, where npm runs its scripts
  build: {
    outDir: '../../dist/web',
    manifest: true,
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    // zod and what forbids it eval stand in one file, so that no schema is ever made before it is forbidden.
    rolldownOptions: {
      output: { codeSplitting: { groups: [{ name: 'zod', test: /node_modules.zod.|zodWithoutEval/ }] } },
    },
  },
  worker: { format: 'es' },
  resolve: { conditions: ['source', 'module', 'browser', 'development|production'] },
  // Lit's decorators, as in tsconfig.web.json.
  oxc: {
    decorator: { legacy: true },
    assumptions: { setPublicClassFields: true },
    typescript: { removeClassFieldsWithoutInitializer: true },
  },
  server: { host: '127.0.0.1', proxy: { '/api': SERVER, '/ws': { target: SERVER, ws: true } } },
});
