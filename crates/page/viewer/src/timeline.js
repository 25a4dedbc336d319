// What plays: one thing at a time, with a time line that is there only meanwhile.
import { write } from './words.js';

const el = (id) => document.getElementById(id);
/** Whoever wants no motion sees one state after the other, each for so long, ms. */
const asksForRest = matchMedia('(prefers-reduced-motion: reduce)');
const REST_MS = 1400;

export class Timeline {
  constructor(stage, isShown, closed) {
    this.closed = closed;
    this.stage = stage;
    this.isShown = isShown;
    this.played = null;
    this.at = 0;
    this.isRunning = false;
    el('tl-play').addEventListener('click', () => this.run(!this.isRunning));
    el('tl-back').addEventListener('click', () => this.toStop(-1));
    el('tl-on').addEventListener('click', () => this.toStop(1));
    el('tl-close').addEventListener('click', () => this.end());
    el('tl-at').addEventListener('input', (e) => {
      this.run(false);
      this.seek((Number(e.target.value) / 1000) * this.played.end);
    });
    document.addEventListener('keydown', (e) => {
      if (e.key === 'Escape' && this.played) this.end();
    });
  }

  open(played, kind) {
    this.close();
    this.played = played;
    el('timeline').hidden = false;
    el('timeline').dataset.kind = kind;
    el('tl-title').textContent = played.title;
    const hasCurves = kind === 'rehearsal';
    el('tl-curves').innerHTML = hasCurves ? played.curves(el('tl-curves')) : '';
    el('tl-key').replaceChildren(...(hasCurves ? played.key() : []).map(([colour, name]) => {
      const item = document.createElement('li');
      item.textContent = name;
      item.style.setProperty('--curve', colour);
      return item;
    }));
    this.seek(0);
    this.run(true);
    // Who plays it from the keyboard is taken to where it is held, and back in the end.
    const from = document.activeElement;
    this.from = from?.matches(':focus-visible') ? from : null;
    if (this.from) el('tl-play').focus({ preventScroll: true });
  }

  close() {
    if (!this.played) return;
    this.run(false);
    this.played.restore(this.isShown);
    this.played = null;
    el('timeline').hidden = true;
    this.stage.draw();
  }

  end() {
    this.close();
    this.from?.focus();
    this.closed();
  }

  run(isRunning) {
    this.isRunning = isRunning;
    el('tl-play').textContent = isRunning ? 'Hold' : 'Play';
    if (!isRunning) return;
    if (this.at >= this.played.end - 1e-3) this.seek(0);
    clearTimeout(this.rest);
    if (asksForRest.matches) return void this.leap();
    let last = performance.now();
    const step = (now) => {
      if (!this.isRunning) return;
      // A slow machine plays slower rather than in leaps.
      this.seek(this.at + Math.min((now - last) / 1000, 0.12));
      last = now;
      if (this.at >= this.played.end) this.run(false);
      else requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  /** From state to state, as long as it runs. */
  leap() {
    this.rest = setTimeout(() => {
      if (!this.isRunning) return;
      const times = [...this.played.stops.map((stop) => stop.at), ...(this.played.leaps ?? []), this.played.end];
      this.seek(Math.min(...times.filter((t) => t > this.at + 1e-3)));
      if (this.at >= this.played.end - 1e-3) this.run(false);
      else this.leap();
    }, REST_MS);
  }

  seek(at) {
    this.at = Math.min(Math.max(at, 0), this.played.end);
    this.played.show(this.at, this.isShown);
    const told = this.played.words(this.at);
    const { time = '', words, figures = [], spilled = '' } = typeof told === 'string' ? { words: told } : told;
    for (const [id, text] of [['tl-time', time], ['tl-words', words], ['tl-spilled', spilled]]) write(el(id), text);
    this.tellFigures(figures);
    el('tl-at').value = String(Math.round((this.at / this.played.end) * 1000));
    el('tl-at').setAttribute('aria-valuetext', `${time} ${words}`.replaceAll('`', '').trim());
    const cursor = el('cursor');
    if (cursor) for (const x of ['x1', 'x2']) cursor.setAttribute(x, this.played.cursor(this.at));
    this.stage.draw();
  }

  /** Names with figures that change as it plays. */
  tellFigures(figures) {
    const list = el('tl-figures');
    while (list.children.length > figures.length) list.lastChild.remove();
    while (list.children.length < figures.length) list.append(document.createElement('li'));
    figures.forEach(([name, figure], k) => write(list.children[k], `${name} ${figure}`));
  }

  toStop(by) {
    this.run(false);
    const stops = [0, ...this.played.stops.map((stop) => stop.at), this.played.end];
    const next = by > 0 ? stops.find((t) => t > this.at + 1e-3) : stops.filter((t) => t < this.at - 1e-3).at(-1);
    this.seek(next ?? (by > 0 ? this.played.end : 0));
  }
}
