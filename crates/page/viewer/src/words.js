// Numbers as people read them, in the units of the file.
const US_GALLON_L = 3.785411784;

export class Words {
  constructor(isUs) {
    this.isUs = isUs;
  }

  height(mm) {
    return this.isUs ? `${Number((mm / 25.4).toFixed(2))} in` : `${mm.toFixed(0)} mm`;
  }

  volume(litres) {
    return this.isUs ? `${(litres / US_GALLON_L).toFixed(1)} gal` : `${litres.toFixed(1)} L`;
  }

  flow(perHour) {
    return this.isUs ? `${(perHour / US_GALLON_L).toFixed(0)} gph` : `${perHour.toFixed(0)} L/h`;
  }

  time(s) {
    const sign = s < 0 ? '−' : '';
    const t = Math.abs(s);
    if (t < 60) return `${sign}${t.toFixed(0)} s`;
    if (t < 3600) return `${sign}${short(t / 60)} min`;
    if (t < 86400) return `${sign}${short(t / 3600)} h`;
    const days = short(t / 86400);
    return `${sign}${days} ${days === '1' ? 'day' : 'days'}`;
  }
}

/** To a tenth where it is small. */
const short = (x) => String(Number(x.toFixed(x < 10 ? 1 : 0)));

/** Names that stand in backticks in a text. */
export const named = (text) => [...text.matchAll(/`([^`]*)`/g)].map((found) => found[1]);

/** Writes a text into an element, with names that stand in backticks set apart. */
export function write(element, text) {
  if (element.dataset.text === text) return;
  element.dataset.text = text;
  element.replaceChildren(...text.split('`').map((piece, k) => {
    if (k % 2 === 0) return piece;
    const name = document.createElement('i');
    name.textContent = piece;
    return name;
  }));
}
