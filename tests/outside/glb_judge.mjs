// Judges the GLB of a folder: no error and no warning by the official validator of glTF 2.0, and as many ways out played
// as `checks/fit.json` tells.
//
// Independent program: gltf-validator of the Khronos Group. How it is called stands in judging.mjs.
import fs from 'node:fs';
import path from 'node:path';
import { expectations, installed, onlyFile, run, versions } from './judging.mjs';

const validator = installed('gltf-validator');
const model = (folder) => onlyFile(path.join(folder, 'model'), '.glb');

/** The JSON chunk of a file in this format (section 4.4.3.2 of the standard). */
function json(bytes) {
  return JSON.parse(bytes.subarray(20, 20 + bytes.readUInt32LE(12)).toString('utf8'));
}

async function judge(folder, rows) {
  const file = model(folder);
  const bytes = fs.readFileSync(file);
  const part = path.basename(file);
  const { issues, info } = await validator.validateBytes(new Uint8Array(bytes), { uri: part });
  const said = issues.messages.filter((m) => m.severity < 2).map((m) => `${m.code} ${m.pointer}: ${m.message}`);
  rows.equal('GLB: errors by the validator', part, 0, issues.numErrors);
  rows.equal('GLB: warnings by the validator', part, 0, issues.numWarnings);
  for (const text of said.slice(0, 5)) console.error(`${part}: ${text}`);
  const fit = expectations(folder, 'fit');
  const ways = fit.ways.filter((way) => way.steps.length > 0);
  rows.equal('GLB: ways out as animations', part, ways.length, info.animationCount);
  const names = new Set(json(bytes).nodes.map((node) => node.name));
  const missing = fit.things.filter((thing) => thing.stl && !names.has(thing.name)).map((thing) => thing.name);
  rows.equal('GLB: parts that are no node', part, 'none', missing.join(', ') || 'none');
}

/** Changes bytes of the file. */
const changed = (change) => (folder) => {
  const file = model(folder);
  fs.writeFileSync(file, change(fs.readFileSync(file)));
};
/** Changes text of its JSON chunk, which keeps its length. */
const retold = (from, to) => changed((bytes) => {
  const at = bytes.indexOf(from);
  if (at < 0 || from.length !== to.length) throw new Error(`nothing to damage: ${from}`);
  bytes.write(to, at);
  return bytes;
});

await run(judge, versions('gltf-validator'), {
  'its end is cut off': changed((bytes) => bytes.subarray(0, bytes.length - 4)),
  'a kind of number that there is not': retold('"componentType":5126', '"componentType":5127'),
  'numbers that are none': changed((bytes) => bytes.fill(0xff, bytes.length - 400, bytes.length - 4)),
  'a key that there is not': retold('"alphaMode"', '"alphaMood"'),
  'a way out that is not told': (folder) => {
    const file = path.join(folder, 'checks/fit.json');
    const fit = JSON.parse(fs.readFileSync(file, 'utf8'));
    fit.ways.splice(fit.ways.findIndex((way) => way.steps.length > 0), 1);
    fs.writeFileSync(file, JSON.stringify(fit));
  },
});
