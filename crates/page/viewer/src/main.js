// The page: binds the cards to the model.
import { Box3 } from 'three';
import { bindDrawings, drawingOf } from './drawings.js';
import { read } from './model.js';
import { unpacked } from './packed.js';
import { Rehearsal } from './rehearsal.js';
import { Removal } from './removal.js';
import { Shown } from './shown.js';
import { Stage } from './stage.js';
import { tell } from './told.js';
import { bindLook } from './theme.js';
import { Timeline } from './timeline.js';
import { Water } from './water.js';
import { Words } from './words.js';

const el = (id) => document.getElementById(id);
const all = (selector) => [...document.querySelectorAll(selector)];
const page = document.documentElement;

function withoutModel(why) {
  el('no-model').hidden = false;
  el('no-model-why').textContent = why;
  el('stage').classList.add('empty');
  for (const button of all('[data-needs-model]')) button.disabled = true;
  bindLook(() => {});
  page.dataset.ready = 'without model';
}

async function start() {
  const show = JSON.parse(new TextDecoder().decode(unpacked(el('show'))));
  let stage;
  try {
    stage = new Stage(el('model-view'));
  } catch {
    return withoutModel('This browser cannot draw in three dimensions (WebGL is switched off or missing).');
  }
  const model = await read(el('model'));
  const water = new Water(show, model.underLeaves);
  stage.scene.add(model.root, water.root);

  const shown = new Shown(show.things, () => refresh());
  const isShown = (id) => shown.isShown(id);
  const timeline = new Timeline(stage, isShown, () => {
    stage.resize();
    stage.lookAtAll();
  });
  const refresh = () => {
    model.things.forEach((node, id) => { node.visible = isShown(id); });
    if (timeline.played) timeline.seek(timeline.at);
    stage.draw();
  };
  refresh();
  model.things.forEach((node, id) => {
    if (show.things[id]?.group === 'sump') stage.bounds.union(new Box3().setFromObject(node));
  });
  if (stage.bounds.isEmpty()) stage.bounds.setFromObject(model.root);

  const words = new Words(show.is_us);
  const toStage = () => {
    if (getComputedStyle(el('stage')).position === 'static') el('stage').scrollIntoView({ block: 'nearest' });
  };
  const takeOut = (title, steps) => {
    const removal = new Removal(title, steps, show.before_hands, model, water, show.things);
    const reach = removal.reach();
    timeline.open(removal, 'removal');
    stage.resize();
    // All that moves stays in sight from its place to where it is out.
    stage.lookAt(reach.union(stage.bounds));
    toStage();
  };
  const playWay = (k) => takeOut(`Taking out: ${show.ways[k].name}`, show.ways[k].steps);

  let picked;
  const pick = (id) => {
    if (picked !== undefined) model.mark(picked, 'picked', false);
    picked = id;
    if (id !== undefined) model.mark(id, 'picked', true);
    tell(id, show, {
      hide: () => { shown.set(id, false); pick(undefined); },
      takeOut: () => playWay(show.things[id].way),
      draw: drawingOf(id),
      close: () => pick(undefined),
    });
    stage.draw();
  };
  stage.onTap(() => model.things.filter((node) => node.visible), (object) => model.thingOf(object), pick);
  document.addEventListener('keydown', (e) => { if (e.key === 'Escape') pick(undefined); });

  const on = (selector, act) => all(selector).forEach((b) => b.addEventListener('click', () => act(b.dataset)));
  on('[data-way]', ({ way }) => playWay(Number(way)));
  on('[data-emptying]', () => takeOut('Taking everything out', show.emptying));
  on('[data-rescue]', () => takeOut(`Reaching the floor of ${show.rescue.chamber}`, show.rescue.steps));
  on('[data-rehearsal]', ({ rehearsal }) => {
    timeline.open(new Rehearsal(show.rehearsals[Number(rehearsal)], show.basins, water, words), 'rehearsal');
    stage.resize();
    stage.lookAtAll();
    toStage();
  });
  on('[data-stop]', ({ stop }) => { stage.lookAtStop(show.stops[Number(stop)]); toStage(); });
  on('[data-pick]', ({ pick: id }) => { shown.set(Number(id), true); pick(Number(id)); toStage(); });
  on('[data-in]', ({ in: comes, out }) => {
    const ids = (list) => list.split(' ').filter(Boolean).map(Number);
    for (const id of ids(out)) shown.set(id, false);
    for (const id of ids(comes)) shown.set(id, true);
    pick(ids(comes)[0]);
    toStage();
  });
  el('whole').addEventListener('click', () => stage.lookAtAll());

  bindLook((isDark) => stage.setDark(isDark));
  stage.resize();
  stage.lookAtAll();
  stage.drawNow();
  addEventListener('beforeprint', () => { el('printed').src = stage.onWhite(); });
  page.dataset.ready = performance.now().toFixed(0);
}

// Closed cards would be missing on paper; of drawings only those that are open are wanted.
let opened = [];
addEventListener('beforeprint', () => {
  opened = all('details:not([open], [data-bent])');
  for (const card of opened) card.open = true;
});
addEventListener('afterprint', () => { for (const card of opened) card.open = false; });

bindDrawings();
start().catch((error) => {
  withoutModel('The model on this page cannot be read.');
  throw error;
});
