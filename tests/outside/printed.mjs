// The words of a PDF as Chromium prints it: its text is told by numbers of glyphs, which the table /ToUnicode of each font
// (ISO 32000-1, section 9.10.3) leads back to letters. Nothing else is read of it.
import zlib from 'node:zlib';

/** Every object of the file by its number: its dictionary, and its stream as text. */
function objects(pdf) {
  const all = new Map();
  for (const [, number, body] of pdf.toString('latin1').matchAll(/(\d+) 0 obj\s([\s\S]*?)\sendobj/g)) {
    const at = body.indexOf('stream');
    const head = at < 0 ? body : body.slice(0, at);
    let stream = '';
    if (at >= 0) {
      const bytes = Buffer.from(body.slice(at).replace(/^stream\r?\n/, ''), 'latin1');
      const isPacked = head.includes('/FlateDecode') && !head.includes('/Image');
      stream = isPacked ? zlib.inflateSync(bytes, { finishFlush: zlib.constants.Z_SYNC_FLUSH }).toString('latin1') : '';
    }
    all.set(Number(number), { head, stream });
  }
  return all;
}

const letters = (hex) => Buffer.from(hex, 'hex').swap16().toString('utf16le');

/** Letters by the number of their glyph, of one font. */
function letterOf(table) {
  const known = new Map();
  for (const [, list] of table.matchAll(/beginbfchar([\s\S]*?)endbfchar/g)) {
    for (const [, glyph, to] of list.matchAll(/<(\w+)>\s*<(\w+)>/g)) known.set(parseInt(glyph, 16), letters(to));
  }
  for (const [, list] of table.matchAll(/beginbfrange([\s\S]*?)endbfrange/g)) {
    for (const [, first, last, to] of list.matchAll(/<(\w+)>\s*<(\w+)>\s*<(\w+)>/g)) {
      const [a, b, code] = [first, last, to].map((hex) => parseInt(hex, 16));
      for (let glyph = a; glyph <= b; glyph += 1) known.set(glyph, String.fromCodePoint(code + glyph - a));
    }
  }
  return known;
}

/** All text of the file in the order in which it is written, without blanks: where these stand is not told everywhere. */
export function printed(pdf) {
  const all = objects(pdf);
  const fonts = new Map();
  for (const { head } of all.values()) {
    for (const [, name, number] of head.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const table = all.get(Number(number))?.head.match(/\/ToUnicode (\d+) 0 R/);
      if (table) fonts.set(name, letterOf(all.get(Number(table[1])).stream));
    }
  }
  let text = '';
  const pages = [...all.values()].filter(({ head }) => /\/Type\s*\/Page\b/.test(head));
  for (const { head } of pages) {
    const content = all.get(Number(head.match(/\/Contents (\d+) 0 R/)[1])).stream;
    let font = new Map();
    for (const [, name, hex] of content.matchAll(/\/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>/g)) {
      if (name) font = fonts.get(name) ?? new Map();
      else for (const glyph of hex.match(/.{4}/g) ?? []) text += font.get(parseInt(glyph, 16)) ?? '';
    }
  }
  const images = [...all.values()].filter(({ head }) => /\/Subtype\s*\/Image\b/.test(head)).length;
  return { pages: pages.length, images, text: text.replace(/\s/g, '') };
}
