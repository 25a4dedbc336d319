// A failure in time: levels, spill and events at any instant, and small curves of them.

/** So long it plays, s. */
const PLAYED_S = 18;
/** Less on a floor is a drop, L. */
const LEAST_L = 0.05;
/** Instants that are marked below the curves, s, where there is room for them: so much for each, in sizes of letters. */
const TICKS_S = [0, 10, 60, 600, 3600, 6 * 3600, 86400, 7 * 86400];
const ROOM_EM = 3.4;
/** So many more points a curve has than instants are known. */
const FINE = 120;
/**
 * Seconds around the failure and the day after it are seen on one scale: near it time goes evenly, and from about this
 * long after it, s, each tenfold time takes the same room.
 */
const EVEN_S = 10;
const stretched = (t) => Math.asinh(t / EVEN_S) * (t < 0 ? 0.3 : 1);
const shrunk = (s) => Math.sinh(s < 0 ? s / 0.3 : s) * EVEN_S;
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
    this.times = data.times_s;
    this.span = [this.times[0], this.times.at(-1)].map(stretched);
    this.stops = data.events.map((event) => ({ at: this.shareOf(event.t_s) * PLAYED_S, words: event.words }));
    // Where it does not move smoothly it stops here too.
    this.leaps = Array.from({ length: 10 }, (_, k) => (k * PLAYED_S) / 10);
  }

  shareOf(t) {
    const [first, last] = this.span;
    return Math.min(Math.max((stretched(t) - first) / Math.max(last - first, 1e-9), 0), 1);
  }

  /** The instant at a moment of the play, s. */
  timeAt(share) {
    const [first, last] = this.span;
    return shrunk(first + (last - first) * share);
  }

  /** Between which instants a time lies, and how far on. */
  place(t) {
    let next = this.times.findIndex((known) => known > t);
    if (next < 0) next = this.times.length - 1;
    next = Math.max(next, 1);
    const [a, b] = [this.times[next - 1], this.times[next] ?? t];
    return { next, share: Math.min(Math.max((t - a) / Math.max(b - a, 1e-9), 0), 1) };
  }

  value(values, { next, share }) {
    const a = values[next - 1] ?? 0;
    return a + ((values[next] ?? a) - a) * share;
  }

  words(played) {
    const t = this.timeAt(played / PLAYED_S);
    const at = this.place(t);
    const events = this.data.events.filter((event) => event.t_s <= t + 1e-6);
    const spilled = this.spilled(at);
    const floors = ['on the floor under the sump', 'on the floor under the display'];
    const spills = spilled.map((l, k) => (l > LEAST_L ? `${this.figures.volume(l)} ${floors[k]}` : '')).filter(Boolean);
    return {
      time: this.figures.time(t),
      words: events.at(-1)?.words ?? this.data.words,
      spilled: spills.join(', '),
      figures: this.data.flows.map((f) => [f.name, this.figures.flow(this.value(f.l_h, at))]),
    };
  }

  /** Water on the floor under the sump and under the display, L. */
  spilled(at) {
    return this.data.spilled_l.map((values) => this.value(values, at));
  }

  show(played) {
    const at = this.place(this.timeAt(played / PLAYED_S));
    const [under] = this.spilled(at);
    this.water.spill(under > LEAST_L ? under : 0);
    const levels = this.data.levels_mm.map((values) => this.value(values, at));
    this.water.setLevels(levels);
    for (const cell of document.querySelectorAll('[data-basin]')) {
      cell.textContent = this.figures.height(levels[Number(cell.dataset.basin)] ?? 0);
    }
  }

  restore() {
    this.water.spill(0);
    const levels = this.basins.map((basin) => basin.level_mm);
    this.water.setLevels(levels);
    for (const cell of document.querySelectorAll('[data-basin]')) {
      cell.textContent = this.figures.height(levels[Number(cell.dataset.basin)] ?? 0);
    }
  }

  /** Instants with where they lie, as a share of the width, of which each takes so much `room`. */
  ticks(room) {
    const placed = [];
    const { times_s: times } = this.data;
    for (const t of TICKS_S.filter((t) => t >= times[0] && t <= times.at(-1))) {
      const at = this.shareOf(t);
      if (at - 1 <= 1e-9 && at - (placed.at(-1)?.at ?? -1) >= room) placed.push({ at, words: t === 0 ? 'it fails' : this.figures.time(t) });
    }
    return placed;
  }

  /** Curves of all levels with their scales, as HTML for an element; `#cursor` marks the moment. */
  curves(element) {
    const all = this.data.levels_mm.flat();
    const [lo, hi] = [Math.min(...all), Math.max(...all)];
    const x = (share) => (share * WIDTH).toFixed(1);
    const y = (mm) => (HEIGHT - 4 - ((mm - lo) / Math.max(hi - lo, 1)) * (HEIGHT - 8)).toFixed(1);
    // Straight between instants that are known, which on this scale is a curve.
    const between = Array.from({ length: FINE + 1 }, (_, k) => this.timeAt(k / FINE));
    const times = [...this.times, ...between].sort((a, b) => a - b);
    const path = (values, k) => {
      const points = times.map((t) => `${x(this.shareOf(t))},${y(this.value(values, this.place(t)))}`);
      return `<polyline points="${points.join(' ')}" stroke="${COLOURS[k % COLOURS.length]}"/>`;
    };
    const upright = (share, name) => `<line x1="${x(share)}" x2="${x(share)}" y1="0" y2="${HEIGHT}" class="${name}"/>`;
    const room = (ROOM_EM * parseFloat(getComputedStyle(element).fontSize)) / Math.max(element.clientWidth, 1);
    const ticks = this.ticks(room);
    const marks = [...ticks.map((tick) => upright(tick.at, 'tick')), ...this.stops.map(({ at }) => upright(at / PLAYED_S, 'event'))];
    const labels = ticks.map(({ at, words }) => `<span style="left:${(at * 100).toFixed(1)}%"${at < room / 2 ? ' class="first"' : at > 1 - room / 2 ? ' class="last"' : ''}>${words}</span>`);
    return `<div class="plot"><svg viewBox="0 0 ${WIDTH} ${HEIGHT}" preserveAspectRatio="none" role="img" aria-label="Levels in time">` +
      `${marks.join('')}${this.data.levels_mm.map(path).join('')}<line id="cursor" y1="0" y2="${HEIGHT}" class="now"/></svg>` +
      `<span class="high">${this.figures.height(hi)}</span><span class="low">${this.figures.height(lo)}</span></div>` +
      `<div class="axis" aria-hidden="true">${labels.join('')}</div>`;
  }

  /** Names to the curves: `[colour, name]`. */
  key() {
    return this.basins.map((basin, k) => [COLOURS[k % COLOURS.length], basin.name]);
  }

  cursor(played) {
    return ((played / PLAYED_S) * WIDTH).toFixed(1);
  }
}
