// Parts on their way out, one after the other: what is where at any instant.
import { home, motion } from './motion.js';

/** How long what is undone by hand is told before the part moves, and how long a part stays when it is out, s. */
const TELL_S = 1.5;
const REST_S = 0.6;

export class Removal {
  constructor(title, steps, before, model, things) {
    this.title = title;
    this.model = model;
    this.steps = [];
    this.stops = [];
    let at = 0;
    const begin = (words) => {
      this.stops.push({ at, words });
    };
    if (before) {
      begin(before);
      at += TELL_S;
    }
    steps.forEach((step, k) => {
      const which = steps.length > 1 ? `${k + 1} of ${steps.length}, ${step.name}` : step.name;
      const undoneAt = at;
      if (step.undo) {
        begin(`${which}: ${step.undo}`);
        at += TELL_S;
      }
      const first = at;
      const moves = step.moves.map((m) => {
        this.stops.push({ at: first + m.begin_s, words: `${which}: ${m.words}` });
        return { at: [first + m.begin_s, first + m.end_s], pose: motion(m) };
      });
      at = (moves.at(-1)?.at[1] ?? at) + REST_S;
      this.steps.push({ ...step, moves, undoneAt, end: at });
    });
    this.end = at;
    // A leaf that is not in by the file stands in the place of another: it is shown while it is played.
    this.spares = steps.flatMap((s) => [...s.things, ...s.undone]).filter((id) => things[id].group === 'spare');
  }

  words(t) {
    return this.stops.filter((stop) => stop.at <= t + 1e-6).at(-1)?.words ?? '';
  }

  /** Puts everything where it is at `t`; `isShown` tells what is switched on. */
  show(t, isShown) {
    this.steps.forEach((step, k) => {
      const isLast = k === this.steps.length - 1;
      const isOut = t >= step.end && !isLast;
      for (const id of step.things) {
        const node = this.model.things[id];
        if (!node) continue;
        node.visible = !isOut && (isShown(id) || this.spares.includes(id));
        const move = step.moves.filter((m) => m.at[0] <= t).at(-1);
        if (move) move.pose(node, Math.min(1, (t - move.at[0]) / Math.max(move.at[1] - move.at[0], 1e-6)));
        else home(node);
        this.model.mark(id, 'moved', t >= step.undoneAt && !isOut);
      }
      for (const id of step.undone) {
        const node = this.model.things[id];
        if (node) node.visible = t <= step.undoneAt && isShown(id);
      }
    });
  }

  /** Everything back in its place. */
  restore(isShown) {
    for (const id of this.steps.flatMap((step) => [...step.things, ...step.undone])) {
      const node = this.model.things[id];
      if (!node) continue;
      home(node);
      node.visible = isShown(id);
      this.model.mark(id, 'moved', false);
    }
  }
}
