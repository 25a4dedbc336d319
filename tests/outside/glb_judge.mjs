// Judges GLB files: no error, no warning by the official validator of glTF 2.0.
//
//   node tests/outside/glb_judge.mjs FILE.glb ...
//
// Independent program: gltf-validator. Its packages: `npm ci` in tests/outside/node.
import fs from 'node:fs';
import { createRequire } from 'node:module';

const validator = createRequire(new URL('node/package.json', import.meta.url))('gltf-validator');

const files = process.argv.slice(2);
if (files.length === 0) {
  console.error('glb_judge: name at least one file');
  process.exit(2);
}
let failed = 0;
for (const file of files) {
  const { issues, info } = await validator.validateBytes(new Uint8Array(fs.readFileSync(file)), { uri: file });
  const isSound = issues.numErrors === 0 && issues.numWarnings === 0;
  if (!isSound) failed += 1;
  const counts = `${issues.numErrors} errors, ${issues.numWarnings} warnings, ${issues.numInfos} infos, ${issues.numHints} hints`;
  console.log(`${isSound ? 'ok    ' : 'FAILED'} ${file}: ${counts}; ${info.totalTriangleCount} triangles, ${info.animationCount} animations`);
  for (const message of issues.messages.slice(0, 20)) {
    if (message.severity < 2) console.log(`       ${message.code} ${message.pointer}: ${message.message}`);
  }
}
console.log(`${files.length - failed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
