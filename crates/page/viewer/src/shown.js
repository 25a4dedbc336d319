// What is switched on and off: each thing by itself and each group together.

export class Shown {
  constructor(things, changed) {
    this.boxes = new Map();
    for (const box of document.querySelectorAll('[data-thing]')) {
      this.boxes.set(Number(box.dataset.thing), box);
      box.addEventListener('change', () => {
        this.tellGroups();
        changed();
      });
    }
    this.groups = [...document.querySelectorAll('[data-group]')];
    for (const group of this.groups) {
      group.addEventListener('change', () => {
        things.forEach((thing, id) => {
          if (thing.group === group.dataset.group && this.boxes.has(id)) this.boxes.get(id).checked = group.checked;
        });
        this.tellGroups();
        changed();
      });
    }
    this.things = things;
    this.tellGroups();
  }

  isShown(id) {
    return this.boxes.get(id)?.checked ?? true;
  }

  set(id, isOn) {
    const box = this.boxes.get(id);
    if (box && box.checked !== isOn) box.click();
  }

  tellGroups() {
    for (const group of this.groups) {
      const on = this.things.map((thing, id) => [thing, id]).filter(([t]) => t.group === group.dataset.group);
      const count = on.filter(([, id]) => this.isShown(id)).length;
      group.checked = count > 0;
      group.indeterminate = count > 0 && count < on.length;
    }
  }
}
