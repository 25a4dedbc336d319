// Judges the GLB of a folder: no error and no warning by the official validator of glTF 2.0, all ways out played that
// `checks/fit.json` tells, and every door; leaves that are not in do not show.
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
  const { animations, nodes } = json(bytes);
  const played = animations.map((animation) => animation.name);
  rows.equal('GLB: all animations are sound', part, played.length, info.animationCount);
  const wanted = ways.map((way) => `${way.steps.at(-1).name} comes out`);
  const untold = wanted.filter((name) => !played.includes(name));
  rows.equal('GLB: ways out that are no animation', part, 'none', untold.join(', ') || 'none');
  const isWay = (name) => name.endsWith(' comes out') && name !== 'everything comes out';
  rows.equal('GLB: ways out as animations', part, ways.length, played.filter(isWay).length);
  const counted = (begin) => played.filter((name) => name.startsWith(begin)).length;
  rows.equal('GLB: everything out as an animation', part, Math.min(fit.emptying.length, 1), counted('everything comes out'));
  const isReached = fs.readFileSync(path.join(folder, 'page.html'), 'utf8').includes(' data-rescue=');
  rows.equal('GLB: the rescue as an animation, as on the page', part, isReached ? 1 : 0, counted('what comes out to reach an animal'));
  const slides = animations.filter((animation) => animation.name.startsWith('door of leaf '));
  const sliding = new Set(slides.flatMap((slide) => slide.channels.map((channel) => nodes[channel.target.node].name)));
  const isDoor = (thing) => thing.is_in_place && thing.name.startsWith('door of leaf ');
  const still = fit.things.filter((thing) => isDoor(thing) && !sliding.has(thing.name)).map((thing) => thing.name);
  rows.equal('GLB: doors that do not slide', part, 'none', still.join(', ') || 'none');
  const isSpare = (node) => node.extras.group === 'spare';
  const hasSize = (node) => (node.scale ?? [1]).some((side) => side !== 0);
  const crossing = nodes.filter((node) => isSpare(node) && hasSize(node)).map((node) => node.name);
  rows.equal('GLB: leaves that are not in and show', part, 'none', crossing.join(', ') || 'none');
  const names = new Set(nodes.map((node) => node.name));
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
  'a door that does not slide': retold('"name":"door of leaf', '"name":"door on leaf'),
  'a spare that shows': retold('"scale":[0,0,0]', '"scale":[0,0,1]'),
  'a way out that is not told': (folder) => {
    const file = path.join(folder, 'checks/fit.json');
    const fit = JSON.parse(fs.readFileSync(file, 'utf8'));
    fit.ways.splice(fit.ways.findIndex((way) => way.steps.length > 0), 1);
    fs.writeFileSync(file, JSON.stringify(fit));
  },
});
