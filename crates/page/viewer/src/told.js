// What is told of the thing that is picked.
import { write } from './words.js';

const el = (id) => document.getElementById(id);

function node(tag, text, className) {
  const made = document.createElement(tag);
  if (text) write(made, text);
  if (className) made.className = className;
  return made;
}

function button(text, act) {
  const made = node('button', text);
  made.type = 'button';
  made.addEventListener('click', act);
  return made;
}

export function tell(id, show, acts) {
  const panel = el('told');
  panel.hidden = id === undefined;
  if (id === undefined) return void panel.replaceChildren();
  const thing = show.things[id];
  const made = [thing.what, thing.size, thing.stock, thing.mass].filter(Boolean).join(' · ');
  const line = thing.line ? `, line ${thing.line}` : '';
  const found = thing.findings.map((k) => node('p', show.findings[k].message, `finding ${show.findings[k].grade}`));
  const buttons = node('p', '', 'buttons');
  buttons.append(button('Switch it off', acts.hide));
  if (thing.way !== null && show.ways[thing.way]?.steps.length > 0) buttons.append(button('Take it out', acts.takeOut));
  if (acts.draw) buttons.append(button('How it bends', acts.draw));
  buttons.append(button('Close', acts.close));
  panel.replaceChildren(
    node('h3', thing.name), node('p', made), node('p', `in the file: ${thing.parameter}${line}`, 'small'), buttons, ...found,
  );
}
