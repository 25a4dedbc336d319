// Drawings of how panels bend: unpacked when the first is opened, and shown large over all on request.
import { unpacked } from './packed.js';

const el = (id) => document.getElementById(id);
const panels = () => [...document.querySelectorAll('[data-bent]')];
let drawings;

function fill(panel) {
  const room = panel.querySelector('.section');
  if (room.firstElementChild) return;
  drawings ??= JSON.parse(new TextDecoder().decode(unpacked(el('drawings'))));
  const drawing = new DOMParser().parseFromString(drawings[panel.dataset.drawing], 'image/svg+xml');
  room.append(document.importNode(drawing.documentElement, true));
}

function enlarge(panel) {
  fill(panel);
  el('large-drawing').replaceChildren(panel.querySelector('svg').cloneNode(true));
  el('large').showModal();
}

export function bindDrawings() {
  for (const panel of panels()) {
    panel.addEventListener('toggle', () => { if (panel.open) fill(panel); });
    panel.querySelector('[data-large]').addEventListener('click', () => enlarge(panel));
  }
  el('large-close').addEventListener('click', () => el('large').close());
  // What lets go of a part is not meant while a drawing is over it.
  el('large').addEventListener('keydown', (e) => { if (e.key === 'Escape') e.stopPropagation(); });
}

/** Opens the drawing of a thing; `undefined` of what has none. */
export function drawingOf(id) {
  const panel = panels().find((one) => Number(one.dataset.bent) === id);
  if (!panel) return undefined;
  return () => {
    for (let part = panel; part; part = part.parentElement.closest('details')) part.open = true;
    fill(panel);
    // On a phone the model stays above.
    panel.scrollIntoView({ block: 'end' });
    panel.querySelector('summary').focus({ preventScroll: true });
  };
}
