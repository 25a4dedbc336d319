// Builds the viewer that every page holds: `npm ci && npm run build`. The same sources give the same bytes.
//
//   node build.mjs            writes bundle.js
//   node build.mjs FILE       writes there instead, to compare
import { build } from 'esbuild';
import { fileURLToPath } from 'node:url';

const here = (name) => fileURLToPath(new URL(name, import.meta.url));

await build({
  entryPoints: [here('src/main.js')],
  outfile: process.argv[2] ?? here('bundle.js'),
  bundle: true,
  minify: true,
  format: 'iife',
  target: 'es2020',
  charset: 'ascii',
  legalComments: 'eof',
});
