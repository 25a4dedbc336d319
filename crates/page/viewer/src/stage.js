// The stage: ground, camera, and the ways to look round with mouse, finger and keys. Draws only when something changed.
import { Box3, Color, PerspectiveCamera, Raycaster, Scene, Spherical, Vector2, Vector3, WebGLRenderer } from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import { direction, point } from './frame.js';
import { look } from './looks.js';

const FIRST = new Vector3(-0.42, 0.62, 1.0);

export class Stage {
  /** Throws when the browser cannot draw. */
  constructor(canvas) {
    this.canvas = canvas;
    const kept = { antialias: true, preserveDrawingBuffer: true };
    const context = canvas.getContext('webgl2', kept);
    if (!context) throw new Error('no WebGL');
    this.renderer = new WebGLRenderer({ canvas, context, ...kept });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(28, 1, 0.01, 50);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.zoomToCursor = true;
    this.controls.addEventListener('change', () => this.draw());
    // What is looked at, until someone turns or moves it by hand.
    this.framed = null;
    this.controls.addEventListener('start', () => { this.framed = null; });
    this.bounds = new Box3();
    this.isAsked = false;
    canvas.addEventListener('keydown', (event) => this.key(event));
    new ResizeObserver(() => this.resize()).observe(canvas);
  }

  setDark(isDark) {
    look(isDark, this.scene);
    this.draw();
  }

  draw() {
    if (this.isAsked) return;
    this.isAsked = true;
    requestAnimationFrame(() => {
      this.isAsked = false;
      this.drawNow();
    });
  }

  drawNow() {
    this.renderer.render(this.scene, this.camera);
  }

  /** A picture of it for paper, as an address. */
  onWhite() {
    const kept = this.scene.background;
    this.scene.background = new Color(0xffffff);
    this.drawNow();
    const picture = this.canvas.toDataURL();
    this.scene.background = kept;
    this.draw();
    return picture;
  }

  resize() {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    const before = this.camera.aspect;
    this.renderer.setSize(w, h, false);
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    if (this.framed) {
      this.lookAt(...this.framed);
      return void this.drawNow();
    }
    // What was seen stays seen when the stage becomes narrower or wider.
    const half = (aspect) => Math.tan((this.camera.fov * Math.PI) / 360) * Math.min(1, aspect);
    const offset = this.camera.position.clone().sub(this.controls.target);
    this.camera.position.copy(this.controls.target).addScaledVector(offset, half(before) / half(this.camera.aspect));
    this.controls.update();
    this.drawNow();
  }

  /** Looks at a box, as large as it fits, from a direction. */
  lookAt(box, from = FIRST) {
    this.framed = [box, from];
    const middle = box.getCenter(new Vector3());
    const toEye = from.clone().normalize();
    const up = new Vector3(0, 1, 0);
    const right = up.clone().cross(toEye).normalize();
    const over = toEye.clone().cross(right);
    const tan = Math.tan((this.camera.fov * Math.PI) / 360);
    let distance = 0.05;
    for (let k = 0; k < 8; k += 1) {
      const p = new Vector3(k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z);
      p.sub(middle);
      const wide = Math.abs(p.dot(right)) / (tan * this.camera.aspect);
      const high = Math.abs(p.dot(over)) / tan;
      distance = Math.max(distance, 1.06 * Math.max(wide, high) + p.dot(toEye));
    }
    this.controls.target.copy(middle);
    this.camera.position.copy(middle).addScaledVector(toEye, distance);
    this.controls.update();
    this.draw();
  }

  lookAtAll() {
    this.lookAt(this.bounds);
  }

  lookAtStop(stop) {
    this.lookAt(new Box3().setFromPoints(stop.about.map(point)).expandByScalar(0.08), direction(stop.from));
  }

  key(event) {
    const by = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.12], ArrowDown: [0, 0.12] }[event.key];
    const zoom = { '+': 0.87, '=': 0.87, '-': 1.15 }[event.key];
    if (!by && !zoom && event.key !== '0') return;
    event.preventDefault();
    if (event.key === '0') return void this.lookAtAll();
    this.framed = null;
    const at = new Spherical().setFromVector3(this.camera.position.clone().sub(this.controls.target));
    if (by) {
      at.theta += by[0];
      at.phi += by[1];
    } else {
      at.radius *= zoom;
    }
    this.camera.position.setFromSpherical(at.makeSafe()).add(this.controls.target);
    this.controls.update();
    this.draw();
  }

  /**
   * Calls back with what a tap that is no drag means of what it hits, by `thingOf`; `undefined` beside everything. Clear
   * sheet is tapped through to what is solid, and a second tap at the same place means what comes next behind.
   */
  onTap(objects, thingOf, tapped) {
    const ray = new Raycaster();
    let down = null;
    let last = { at: [-99, -99], turn: 0 };
    this.canvas.addEventListener('pointerdown', (e) => { down = e.isPrimary ? [e.clientX, e.clientY] : null; });
    this.canvas.addEventListener('pointerup', (e) => {
      const near = ([x, y]) => Math.hypot(e.clientX - x, e.clientY - y) < 7;
      if (!down || !near(down)) return;
      const box = this.canvas.getBoundingClientRect();
      const at = new Vector2(((e.clientX - box.left) / box.width) * 2 - 1, 1 - ((e.clientY - box.top) / box.height) * 2);
      ray.setFromCamera(at, this.camera);
      const hits = ray.intersectObjects(objects(), true).filter((hit) => hit.object.isMesh);
      const isClear = (hit) => hit.object.material.transparent;
      const inOrder = [...hits.filter((hit) => !isClear(hit)), ...hits.filter(isClear)];
      const things = [...new Set(inOrder.map((hit) => thingOf(hit.object)))];
      last = { at: [e.clientX, e.clientY], turn: near(last.at) ? last.turn + 1 : 0 };
      tapped(things[last.turn % Math.max(things.length, 1)]);
    });
  }
}
