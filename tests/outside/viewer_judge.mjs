// Judges that the viewer in every page is what its sources give: builds it anew and compares bytes.
//
//   node tests/outside/viewer_judge.mjs
//
// Packages: `npm ci` in crates/page/viewer.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const viewer = fileURLToPath(new URL('../../crates/page/viewer/', import.meta.url));
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'viewer-'));
const file = (...names) => fs.readFileSync(path.join(...names));
let failed = 0;
function check(what, holds) {
  if (!holds) failed += 1;
  console.log(`${holds ? 'ok    ' : 'FAILED'} ${what}`);
}
try {
  execFileSync(process.execPath, ['build.mjs', path.join(folder, 'bundle.js')], { cwd: viewer, stdio: 'inherit' });
  check('bundle.js is built from its sources', file(folder, 'bundle.js').equals(file(viewer, 'bundle.js')));
  check('the licence is that of the library', file(viewer, 'THREE-LICENSE.txt').equals(file(viewer, 'node_modules/three/LICENSE')));
} finally {
  fs.rmSync(folder, { recursive: true });
}
console.log(`${2 - failed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
