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
    if (t < 90) return `${sign}${t.toFixed(0)} s`;
    if (t < 5400) return `${sign}${(t / 60).toFixed(t < 600 ? 1 : 0)} min`;
    if (t < 172800) return `${sign}${(t / 3600).toFixed(1)} h`;
    return `${sign}${(t / 86400).toFixed(1)} days`;
  }
}
