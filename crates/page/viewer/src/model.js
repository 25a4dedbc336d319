// The model: what is in the file, by the place of each body in the list of all things.
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { unpacked } from './packed.js';
import { Mesh } from 'three';
import { ORDER, around, clear, lines, solid } from './looks.js';

/** Reads the model that the page holds. */
export function read(element) {
  const bytes = unpacked(element);
  return new Promise((done, failed) => {
    new GLTFLoader().parse(bytes.buffer, '', (file) => done(new Model(file.scene)), failed);
  });
}

class Model {
  constructor(root) {
    this.root = root;
    this.things = [];
    this.underLeaves = [];
    for (const node of [...root.children]) {
      const { thing, group, is_open: isOpen } = node.userData;
      if (group === 'water') {
        // Water in basins follows levels and is made anew; what stands under leaves is taken from here.
        root.remove(node);
        if (!isOpen) this.underLeaves.push(node);
      } else if (thing !== undefined) {
        this.things[thing] = node;
        // In the file a spare has no size; here it is switched on and off like everything else.
        node.scale.setScalar(1);
        dress(node, group === 'cabinet');
      }
    }
  }

  /** The thing that a part of the drawing belongs to. */
  thingOf(object) {
    for (let o = object; o; o = o.parent) if (o.userData.thing !== undefined) return o.userData.thing;
    return undefined;
  }

  /** Leaves of a thing only its edges, or shows all of it. */
  outline(thing, isOn) {
    this.things[thing]?.traverse((o) => { if (o.isMesh) o.visible = !isOn; });
  }

  /** Shows that a thing moves or is picked. */
  mark(thing, what, isOn) {
    this.things[thing]?.traverse((o) => {
      if (o.isLineSegments && !o.userData.isAround) o.material = isOn ? lines[what] : lines.edge;
      else if (o.material?.uniforms) o.material.uniforms[what].value = isOn ? 1 : 0;
    });
  }
}

function dress(node, isAround) {
  const pieces = [];
  node.traverse((o) => pieces.push(o));
  for (const o of pieces) {
    if (o.isLineSegments) {
      o.material = isAround ? lines.around : lines.edge;
      o.userData.isAround = isAround;
      o.renderOrder = ORDER.line;
    } else if (o.isMesh && isAround) {
      o.material = around();
      o.renderOrder = ORDER.filter;
    } else if (o.isMesh && o.material.transparent) {
      const [filter, gloss] = clear(o.material);
      o.material = filter;
      o.renderOrder = ORDER.filter;
      const second = new Mesh(o.geometry, gloss);
      second.renderOrder = ORDER.gloss;
      second.raycast = () => {};
      o.add(second);
    } else if (o.isMesh) {
      o.material = solid(o.material);
    }
  }
}
