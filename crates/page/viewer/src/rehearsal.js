// A failure in time: levels, spill and events at any instant, and small curves of them.

/** So long it plays, s. */
const PLAYED_S = 18;
const COLOURS = ['#0f7a7a', '#c4551c', '#3a5fa8', '#8a6d1d', '#7b4b94', '#4b7d3a', '#a83a5c', '#5a6670'];
const [WIDTH, HEIGHT] = [320, 96];

export class Rehearsal {
  constructor(data, basins, water, words) {
    this.data = data;
    this.basins = basins;
    this.water = water;
    this.figures = words;
    this.title = data.name;
    this.end = PLAYED_S;
    const { times_s: times } = data;
    // Time runs faster where little happens: half by the clock, half by how closely levels had to be followed.
    const [first, last] = [times[0], times.at(-1)];
    const n = Math.max(times.length - 1, 1);
    this.shares = times.map((t, i) => 0.5 * ((t - first) / Math.max(last - first, 1e-9)) + (0.5 * i) / n);
    this.stops = data.events.map((event) => ({ at: this.shareOf(event.t_s) * PLAYED_S, words: event.words }));
  }

  shareOf(t) {
    const { times_s: times } = this.data;
    const next = Math.min(Math.max(times.findIndex((x) => x > t), 1), times.length - 1);
    if (t >= times.at(-1)) return 1;
    const [a, b] = [times[next - 1], times[next]];
    const share = Math.min(Math.max((t - a) / Math.max(b - a, 1e-9), 0), 1);
    return this.shares[next - 1] + (this.shares[next] - this.shares[next - 1]) * share;
  }

  /** Between which instants a moment of the play lies, and how far on. */
  place(played) {
    const share = Math.min(Math.max(played / PLAYED_S, 0), 1);
    let next = this.shares.findIndex((s) => s >= share);
    if (next < 0) next = this.shares.length - 1;
    next = Math.max(next, 1);
    const [a, b] = [this.shares[next - 1], this.shares[next] ?? 1];
    return { next, share: Math.min(Math.max((share - a) / Math.max(b - a, 1e-9), 0), 1) };
  }

  value(values, { next, share }) {
    const a = values[next - 1] ?? 0;
    return a + ((values[next] ?? a) - a) * share;
  }

  words(played) {
    const at = this.place(played);
    const t = this.value(this.data.times_s, at);
    const events = this.data.events.filter((event) => event.t_s <= t + 1e-6);
    const spilled = this.data.spilled_l.map((values) => this.value(values, at));
    const flows = this.data.flows.map((f) => `${f.name} ${this.figures.flow(this.value(f.l_h, at))}`);
    const floors = ['the floor under the sump', 'the floor under the display'];
    const spills = spilled.map((l, k) => (l > 0.05 ? `${this.figures.volume(l)} on ${floors[k]}` : '')).filter(Boolean);
    return {
      time: this.figures.time(t),
      words: events.at(-1)?.words ?? this.data.words,
      more: [...spills, ...flows].join(' · '),
    };
  }

  show(played) {
    const at = this.place(played);
    const levels = this.data.levels_mm.map((values) => this.value(values, at));
    this.water.setLevels(levels);
    for (const cell of document.querySelectorAll('[data-basin]')) {
      cell.textContent = this.figures.height(levels[Number(cell.dataset.basin)] ?? 0);
    }
  }

  restore() {
    const levels = this.basins.map((basin) => basin.level_mm);
    this.water.setLevels(levels);
    for (const cell of document.querySelectorAll('[data-basin]')) {
      cell.textContent = this.figures.height(levels[Number(cell.dataset.basin)] ?? 0);
    }
  }

  /** Curves of all levels as SVG text; `#cursor` marks the moment. */
  curves() {
    const all = this.data.levels_mm.flat();
    const [lo, hi] = [Math.min(...all), Math.max(...all)];
    const x = (i) => (this.shares[i] * WIDTH).toFixed(1);
    const y = (mm) => (HEIGHT - 4 - ((mm - lo) / Math.max(hi - lo, 1)) * (HEIGHT - 8)).toFixed(1);
    const path = (values, k) =>
      `<polyline points="${values.map((mm, i) => `${x(i)},${y(mm)}`).join(' ')}" stroke="${COLOURS[k % COLOURS.length]}"/>`;
    const marks = this.stops.map(({ at }) => {
      const where = ((at / PLAYED_S) * WIDTH).toFixed(1);
      return `<line x1="${where}" x2="${where}" y1="0" y2="${HEIGHT}" class="event"/>`;
    });
    return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" preserveAspectRatio="none" role="img" aria-label="Levels in time">` +
      `${marks.join('')}${this.data.levels_mm.map(path).join('')}<line id="cursor" y1="0" y2="${HEIGHT}" class="now"/></svg>`;
  }

  /** Names to the curves: `[colour, name]`. */
  key() {
    return this.basins.map((basin, k) => [COLOURS[k % COLOURS.length], basin.name]);
  }

  cursor(played) {
    return ((played / PLAYED_S) * WIDTH).toFixed(1);
  }
}
