// Water in every basin, with its surface, at any level.
import { Box3, BoxGeometry, BufferGeometry, CircleGeometry, Float32BufferAttribute, Group, LineLoop, Mesh } from 'three';
import { ORDER, lines, water as looks } from './looks.js';

const OFF = 0.4e-3;
/** A puddle is drawn as if it stood so high on the floor, and no wider than this, m: it shows that there is water, not where. */
const PUDDLE_M = 0.01;
const WIDEST_M = 1.2;

export class Water {
  constructor(show, underLeaves) {
    this.root = new Group();
    this.floor = show.floor_z_mm * 1e-3;
    this.basins = show.basins.map((basin) => {
      const [x0, x1] = [basin.min_mm[0] * 1e-3 + OFF, basin.max_mm[0] * 1e-3 - OFF];
      const [z0, z1] = [-basin.max_mm[1] * 1e-3 + OFF, -basin.min_mm[1] * 1e-3 - OFF];
      const body = this.box(x0, x1, 0, 1, z0, z1);
      const ring = new BufferGeometry();
      ring.setAttribute('position', new Float32BufferAttribute([x0, 1, z0, x1, 1, z0, x1, 1, z1, x0, 1, z1], 3));
      const surface = new LineLoop(ring, lines.surface);
      surface.renderOrder = ORDER.line;
      body.add(surface);
      body.position.y = this.floor;
      return { body, box: [x0, x1, z0, z1] };
    });
    this.gaps = underLeaves.map((node) => {
      const b = new Box3().setFromObject(node);
      const body = this.box(b.min.x, b.max.x, 0, 1, b.min.z, b.max.z);
      body.position.y = b.min.y;
      const touches = ([x0, x1, z0, z1]) =>
        x0 < b.max.x + 2e-3 && b.min.x < x1 + 2e-3 && z0 < b.max.z + 2e-3 && b.min.z < z1 + 2e-3;
      const beside = this.basins.map((basin, i) => (touches(basin.box) ? i : -1)).filter((i) => i >= 0);
      return { body, beside, low: b.min.y, high: b.max.y };
    });
    const disc = new CircleGeometry(1, 48).rotateX(-Math.PI / 2);
    this.puddle = this.layered(disc);
    const middle = (k) => (Math.min(...show.basins.map((b) => b.min_mm[k])) + Math.max(...show.basins.map((b) => b.max_mm[k]))) * 0.5e-3;
    this.puddle.position.set(middle(0), -2e-3, -middle(1));
    this.spill(0);
    this.setLevels(show.basins.map((basin) => basin.level_mm));
  }

  box(x0, x1, y0, y1, z0, z1) {
    const geometry = new BoxGeometry(x1 - x0, y1 - y0, z1 - z0);
    geometry.translate((x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2);
    return this.layered(geometry);
  }

  layered(geometry) {
    const [filter, gloss] = looks();
    const body = new Group();
    for (const [material, order] of [[filter, ORDER.filter], [gloss, ORDER.gloss]]) {
      const mesh = new Mesh(geometry, material);
      mesh.renderOrder = order;
      body.add(mesh);
    }
    this.root.add(body);
    return body;
  }

  /** Litres on the floor under the sump. */
  spill(litres) {
    this.puddle.visible = litres > 0;
    const radius = Math.min(Math.sqrt((litres * 1e-3) / (Math.PI * PUDDLE_M)), WIDEST_M);
    this.puddle.scale.set(Math.max(radius, 1e-3), 1, Math.max(radius, 1e-3));
  }

  /** Levels above the inside of the bottom, mm, in the order of basins. */
  setLevels(levels) {
    this.basins.forEach(({ body }, i) => {
      body.scale.y = Math.max(levels[i] * 1e-3, 1e-5);
      body.visible = levels[i] > 0.2;
    });
    for (const { body, beside, low, high } of this.gaps) {
      const level = this.floor + Math.max(0, ...beside.map((i) => levels[i] * 1e-3));
      body.scale.y = Math.max(Math.min(high, level) - low, 1e-5);
      body.visible = level > low;
    }
  }
}
