// Judges that the viewer in every page is what its sources give: builds it anew and compares bytes. The folder that it
// judges is `crates/page/viewer`, with its packages (`npm ci` there). How it is called stands in judging.mjs.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { replace, run } from './judging.mjs';

function judge(folder, rows) {
  const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'viewer-'));
  const file = (...names) => fs.readFileSync(path.join(...names));
  try {
    execFileSync(process.execPath, ['build.mjs', path.join(scratch, 'bundle.js')], { cwd: folder, stdio: 'inherit' });
    rows.holds('viewer: its bundle is built from its sources', 'bundle.js', file(scratch, 'bundle.js').equals(file(folder, 'bundle.js')), 'another one');
    const licences = [file(folder, 'THREE-LICENSE.txt'), file(folder, 'node_modules/three/LICENSE')];
    rows.holds('viewer: the licence is that of its library', 'THREE-LICENSE.txt', licences[0].equals(licences[1]), 'another one');
  } finally {
    fs.rmSync(scratch, { recursive: true });
  }
}

/** A copy without the packages, which are many; a link leads to them. */
function copy(link, to) {
  const from = fs.realpathSync(link);
  const packages = path.join(from, 'node_modules');
  fs.cpSync(from, to, { recursive: true, filter: (name) => name !== packages });
  fs.symlinkSync(packages, path.join(to, 'node_modules'));
}

const { version } = JSON.parse(fs.readFileSync(new URL('../../crates/page/viewer/node_modules/esbuild/package.json', import.meta.url), 'utf8'));
await run(judge, `esbuild ${version}`, {
  'a source that the bundle was not built from': (folder) => replace(path.join(folder, 'src/stage.js'), '0.62', '0.63'),
  'a bundle with a word more': (folder) => fs.appendFileSync(path.join(folder, 'bundle.js'), '\n'),
  'a licence with a word less': (folder) => replace(path.join(folder, 'THREE-LICENSE.txt'), 'MIT', ''),
}, copy);
