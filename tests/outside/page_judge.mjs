// Judges the page of a folder: opened in a browser at the size of a phone and of a desk, it shows and plays what it holds,
// asks nothing of the network, says no error, and is small enough. How soon it does is judged by pace_judge.mjs.
//
// Independent program: that of browser.mjs. How it is called stands in judging.mjs; `--pictures FOLDER` keeps pictures of
// what it sees.
import fs from 'node:fs';
import path from 'node:path';
import { SIZES, SOFTWARE, drawn, launch, open, pageIn, source, tab } from './browser.mjs';
import { expectations, replace, run } from './judging.mjs';
import { printed } from './printed.mjs';

const MOST_BYTES = 1.5e6;
const count = (list) => list?.length ?? 0;

/** Keeps the picture that is drawn, to be compared with a later one. */
async function remember(page) {
  await drawn(page);
  await page.evaluate(() => {
    const gl = document.getElementById('model-view').getContext('webgl2');
    window.judged = { w: gl.drawingBufferWidth, h: gl.drawingBufferHeight };
    window.judged.pixels = new Uint8Array(window.judged.w * window.judged.h * 4);
    gl.readPixels(0, 0, window.judged.w, window.judged.h, gl.RGBA, gl.UNSIGNED_BYTE, window.judged.pixels);
  });
}

/** How near to an edge of the picture anything is that is no longer as it was remembered, pixels; -1 when all is or none. */
async function leastMargin(page) {
  await drawn(page);
  return page.evaluate(() => {
    const gl = document.getElementById('model-view').getContext('webgl2');
    const { w, h, pixels } = window.judged;
    if (gl.drawingBufferWidth !== w || gl.drawingBufferHeight !== h) return -1;
    const now = new Uint8Array(pixels.length);
    gl.readPixels(0, 0, w, h, gl.RGBA, gl.UNSIGNED_BYTE, now);
    let least = Infinity;
    for (let y = 0; y < h; y += 1) {
      for (let x = 0; x < w; x += 1) {
        const k = 4 * (y * w + x);
        if (Math.abs(now[k] - pixels[k]) + Math.abs(now[k + 1] - pixels[k + 1]) + Math.abs(now[k + 2] - pixels[k + 2]) > 24) {
          least = Math.min(least, x, y, w - 1 - x, h - 1 - y);
        }
      }
    }
    return Number.isFinite(least) ? least : -1;
  });
}

/** What stands in a text but for letters and digits differs on paper: hyphens, ligatures, where lines end. */
const bare = (text) => text.normalize('NFKC').replace(/[^\p{L}\p{N}]/gu, '');

/** On paper all that was found is there to read, and the model. */
async function judgePrinted(page, holds) {
  const found = await page.$$eval('.finding > p:first-child', (all) => all.map((p) => p.textContent));
  const paper = printed(Buffer.from(await page.pdf({ format: 'A4' })));
  const text = bare(paper.text);
  const missing = found.filter((words) => !text.includes(bare(words)));
  holds('printed it has pages', paper.pages > 1 && paper.images > 0, `${paper.pages} pages, ${paper.images} pictures`);
  holds('printed it tells all findings', found.length > 0 && missing.length === 0, missing.join(' | ') || 'there are none');
}

/** Two fingers on the phone, or the wheel at the desk, bring the model nearer; a finger or the mouse turns it. */
async function judgeByHand(page, size, whole, holds) {
  const { x, y, width, height } = await (await page.$('#model-view')).boundingBox();
  const [cx, cy] = [x + width / 2, y + height / 2];
  const session = await page.createCDPSession();
  const touch = (type, ...at) => session.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([px, py], id) => ({ x: px, y: py, id })) });
  const isOther = async (what) => {
    holds(what, (await drawn(page)) !== whole, 'the picture is the same');
    await page.focus('#model-view');
    await page.keyboard.press('0');
    holds(`${what}, and 0 undoes it`, (await drawn(page)) === whole, 'the picture is another');
  };
  if (size.hasTouch) {
    await touch('touchStart', [cx, cy]);
    for (const k of [1, 2, 3, 4]) await touch('touchMove', [cx + 12 * k, cy]);
    await touch('touchEnd');
    await isOther('a finger turns it');
    const apart = (d) => [[cx - d, cy], [cx + d, cy]];
    await touch('touchStart', ...apart(30));
    for (const k of [1, 2, 3, 4]) await touch('touchMove', ...apart(30 + 15 * k));
    await touch('touchEnd');
    await isOther('two fingers pulled apart change what is seen');
  } else {
    await page.mouse.move(cx, cy);
    await page.mouse.down();
    await page.mouse.move(cx + 60, cy + 10, { steps: 4 });
    await page.mouse.up();
    await isOther('the mouse turns it');
    await page.mouse.move(cx, cy);
    await page.mouse.wheel({ deltaY: -240 });
    await isOther('the wheel changes what is seen');
  }
  await session.detach();
}

/** Every panel that bends has its drawing, which is there once it is opened, and is come to from the panel in the model. */
async function judgeDrawings(page, folder, { same, holds, press, isTooWide, shot }) {
  const panels = expectations(folder, 'strength').panels;
  const bent = await page.$$eval('[data-bent]', (all) => all.map((one) => one.querySelector('summary').firstChild.textContent));
  same('panels with a drawing of how they bend', panels.map((panel) => panel.name).join(', '), bent.join(', '));
  const drawn = () => page.$$eval('[data-bent]', (all) => all.filter((one) => one.querySelector('svg')).length);
  same('drawings before one is opened', 0, await drawn());
  const [first] = await page.$$eval('[data-bent]', (all) => all.map((one) => one.dataset.bent));
  await press(`[data-bent="${first}"] > [data-pick]`);
  await page.$$eval('details[data-bent], #bending', (all) => { for (const one of all) one.open = false; });
  await page.$$eval('#told button', (all) => all.find((one) => one.textContent === 'How it bends')?.click());
  await page.waitForFunction(() => document.querySelector('[data-bent] svg'), { timeout: 5000 });
  same('the drawing that is come to from the model', bent[0], await page.$$eval('#bending [data-bent][open]', (all) => all
    .map((one) => one.querySelector('summary').firstChild.textContent).join()));
  await shot('drawing');
  await press(`[data-bent="${first}"] > [data-large]`);
  const large = await page.$eval('#large', (e) => (e.open ? e.querySelector('svg').getBoundingClientRect().width : 0));
  const small = await page.$eval('[data-bent] svg', (e) => e.getBoundingClientRect().width);
  holds('a drawing is shown large', large >= small, `${large} px, and ${small} px in its card`);
  await shot('drawing-large');
  await page.keyboard.press('Escape');
  holds('Escape closes the large one', await page.$eval('#large', (e) => !e.open), 'it is open');
  await page.$$eval('[data-bent]', (all) => { for (const one of all) one.open = true; });
  await page.waitForFunction(() => [...document.querySelectorAll('[data-bent]')].every((one) => one.querySelector('svg')), { timeout: 5000 });
  const seen = await page.$$eval('[data-bent]', (all) => all.map((one) => {
    const { width, height } = one.querySelector('svg').getBoundingClientRect();
    const words = [...one.querySelectorAll('svg text')].map((text) => text.textContent);
    return { title: one.querySelector('svg title').textContent, tells: words.includes('greatest deflection'), width, height };
  }));
  same('whose each drawing is', bent.map((name) => `${name}: how it bends`).join(', '), seen.map(({ title }) => title).join(', '));
  holds('each drawing is seen and has its key', seen.every((one) => one.tells && one.width > 200 && one.height > 50), JSON.stringify(seen));
  holds('with all drawings open nothing sticks out sideways', !(await isTooWide()), 'it does');
  await page.$$eval('[data-bent]', (all) => { for (const one of all) one.open = false; });
  await page.keyboard.press('Escape');
}

async function judgeAt(browser, folder, size, rows, pictures) {
  const holds = (quantity, doesHold, found) => rows.holds(`page: ${quantity}`, size.name, doesHold, found);
  const same = (quantity, ours, theirs) => rows.equal(`page: ${quantity}`, size.name, ours, theirs);
  const { page, requests, errors } = await tab(browser, pageIn(folder), size);
  await open(page, pageIn(folder));
  const isQuiet = () => {
    same('requests that leave it', 'none', requests.join(' ') || 'none');
    same('errors that it says', 'none', errors.join(' | ') || 'none');
  };
  isQuiet();

  const read = (f, ...args) => page.evaluate(f, ...args);
  holds('it is drawn in software', /swiftshader|llvmpipe/i.test(await read(() => {
    const gl = document.getElementById('model-view').getContext('webgl2');
    return gl.getParameter(gl.getExtension('WEBGL_debug_renderer_info').UNMASKED_RENDERER_WEBGL);
  })), 'by other means');
  const look = () => read(() => document.documentElement.dataset.look);
  holds('it looks as the device asks', (await look()) === size.look, await look());

  const shot = async (name) => {
    if (pictures) await page.screenshot({ path: path.join(pictures, `${rows.on}-${size.name}-${name}.png`) });
  };
  const isTooWide = () => read(() => document.documentElement.scrollWidth > innerWidth + 1);
  /** By finger on the phone, on the desk by the mouse or from the keyboard. */
  const press = async (selector, byKey = false) => {
    await read((s) => {
      const target = document.querySelector(s);
      if (!target) throw new Error(`no ${s}`);
      for (let d = target.closest('details'); d; d = d.parentElement.closest('details')) {
        if (!target.closest('summary') || d !== target.closest('details')) d.open = true;
      }
      target.scrollIntoView({ block: 'center' });
    }, selector);
    const target = await page.$(selector);
    if (size.hasTouch) await target.tap();
    else if (byKey) await target.press('Enter');
    else await target.click();
  };
  const at = () => page.$eval('#tl-at', (e) => Number(e.value));
  const seek = (to) => page.$eval('#tl-at', (e, value) => { e.value = value; e.dispatchEvent(new Event('input')); }, String(to));
  const plays = () => page.waitForFunction(() => Number(document.getElementById('tl-at').value) > 0, { timeout: 20000, polling: 50 });

  const whole = await drawn(page);
  await shot('whole');
  holds('nothing sticks out sideways', !(await isTooWide()), 'it does');

  // A finger or the mouse in the middle of the model meets a part of it.
  await read(() => scrollTo(0, 0));
  const box = await (await page.$('#model-view')).boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  if (size.hasTouch) await page.touchscreen.tap(x, y);
  else await page.mouse.click(x, y);
  const told = await page.$eval('#told', (e) => (e.hidden ? '' : e.innerText));
  holds('a tap tells of a part', told.includes('in the file'), told || 'nothing is told');
  holds('what is picked is marked', (await drawn(page)) !== whole, 'the picture is the same');
  await shot('picked');
  await page.keyboard.press('Escape');
  holds('Escape lets it go', (await drawn(page)) === whole, 'the picture is another');

  await press('[data-thing="0"]');
  holds('a part is switched off', (await drawn(page)) !== whole, 'the picture is the same');
  await press('[data-thing="0"]');
  holds('and on again', (await drawn(page)) === whole, 'the picture is another');

  if (!size.hasTouch) {
    await page.focus('#model-view');
    await page.keyboard.press('ArrowLeft');
    holds('arrow keys turn it', (await drawn(page)) !== whole, 'the picture is the same');
    await page.keyboard.press('0');
    holds('0 shows all of it', (await drawn(page)) === whole, 'the picture is another');
  }

  // Of a slot the first leaf is in, and the others are there when they are asked for.
  if (await page.$('[data-in]')) {
    const shown = async (k) => {
      await press(`li:nth-child(${k}) > [data-in]`);
      await page.keyboard.press('Escape');
      await read(() => scrollTo(0, 0));
      return drawn(page);
    };
    holds('another leaf is shown in its slot', (await shown(2)) !== whole, 'the picture is the same');
    holds('and the first again', (await shown(1)) === whole, 'the picture is another');
  }
  await read(() => scrollTo(0, 0));
  await judgeByHand(page, size, whole, holds);

  await judgeDrawings(page, folder, { same, holds, press, isTooWide, shot });
  await read(() => scrollTo(0, 0));
  holds('after drawings the model is as before', (await drawn(page)) === whole, 'the picture is another');

  const fit = expectations(folder, 'fit');
  const ways = fit.ways.filter((way) => way.steps.length > 0);
  same('ways out that can be played', ways.length, count(await page.$$('[data-way]')));
  await press('[data-way]');
  await plays();
  const words = await page.$eval('#tl-words', (e) => e.textContent);
  holds('a way out is told while it plays', words.length > 3, words);
  await page.click('#tl-play');
  const held = await drawn(page);
  holds('it is held', (await at()) < 1000 && (await drawn(page)) === held, 'it goes on');
  await shot('way');
  await seek(0);
  await remember(page);
  await seek(1000);
  const margin = await leastMargin(page);
  holds('what moves stays in sight', margin > 2, `it comes within ${margin} pixels of the edge`);
  holds('a way out moves the part', (await drawn(page)) !== held, 'the picture is the same');
  await shot('out');
  await page.click('#tl-close');
  await read(() => scrollTo(0, 0));
  holds('and puts it back', (await drawn(page)) === whole, 'the picture is another');

  const levels = () => page.$$eval('[data-basin]', (cells) => cells.map((cell) => cell.textContent).join());
  const rehearsals = expectations(folder, 'water')?.rehearsals;
  same('failures that can be played', count(rehearsals), count(await page.$$('[data-rehearsal]')));
  if (count(rehearsals) > 0) {
    const before = await levels();
    await press('[data-rehearsal]', true);
    await plays();
    const focus = await read(() => document.activeElement.id);
    if (!size.hasTouch) holds('from the keyboard one comes to what plays', focus === 'tl-play', focus);
    await page.click('#tl-play');
    await seek(600);
    holds('levels move while a failure plays', (await levels()) !== before, before);
    holds('and curves are drawn', count(await page.$$('#tl-curves polyline')) > 0, 'none');
    await shot('rehearsal');
    await page.click('#tl-close');
    holds('and levels are as before', (await levels()) === before, await levels());
  }

  await page.click('#look');
  holds('the switch changes the look', (await look()) !== size.look, 'it does not');
  await read(() => { document.documentElement.style.fontSize = '200%'; scrollTo(0, 0); });
  holds('twice the size of text fits too', !(await isTooWide()), 'it sticks out sideways');
  await shot('large');
  await read(() => { document.documentElement.style.fontSize = ''; });
  await judgePrinted(page, holds);
  isQuiet();
  await page.close();
}

/** Where the browser draws no model, one sentence says so, and the rest is there to read. */
async function judgeWithoutModel(folder, rows) {
  const holds = (quantity, doesHold, found) => rows.holds(`page: without WebGL ${quantity}`, '', doesHold, found);
  const browser = await launch('--disable-3d-apis');
  try {
    const { page, errors } = await tab(browser, pageIn(folder));
    await page.goto(pageIn(folder));
    await page.waitForFunction('document.documentElement.dataset.ready', { timeout: 60000 });
    const said = await page.$eval('#no-model', (e) => (e.hidden ? '' : e.innerText));
    holds('a sentence says why', said.includes('cannot draw'), said || 'nothing is said');
    const text = await page.$eval('#cards', (e) => e.innerText);
    holds('the rest can be read', text.includes('Findings') && text.includes('Water'), text);
    holds('what needs the model is off', await page.$eval('[data-way]', (e) => e.disabled), 'it is on');
    holds('no error is said', errors.length === 0, errors.join(' | '));
  } finally {
    await browser.close();
  }
}

async function judge(folder, rows, { pictures, 'self-test': isSelfTest }) {
  const bytes = fs.statSync(path.join(folder, 'page.html')).size;
  rows.within('page: its size, bytes', 'page.html', bytes, MOST_BYTES);
  const browser = await launch(...SOFTWARE);
  try {
    // A damage is found at any size.
    for (const size of isSelfTest ? SIZES.slice(1) : SIZES) await judgeAt(browser, folder, size, rows, pictures);
  } finally {
    await browser.close();
  }
  if (!isSelfTest) await judgeWithoutModel(folder, rows);
}

const damaged = (text, by) => (folder) => replace(path.join(folder, 'page.html'), text, by);
const last = '</body>';

await run(judge, source, {
  'a picture from elsewhere, which the policy of the page stops': damaged(last, '<img src="https://example.org/a.png" alt="">$&'),
  'the same, and no policy': (folder) => {
    damaged(/<meta http-equiv="Content-Security-Policy"[^>]*>/, '')(folder);
    damaged(last, '<img src="https://example.org/a.png" alt="">$&')(folder);
  },
  'a file beside it, and no policy': (folder) => {
    damaged(/<meta http-equiv="Content-Security-Policy"[^>]*>/, '')(folder);
    damaged(last, '<img src="README.txt" alt="">$&')(folder);
  },
  'an error in a script': damaged(last, '<script>nothing();</script>$&'),
  'findings that are not printed': damaged('</style>', '@media print{.finding{display:none}}$&'),
  'more than a megabyte too much': damaged(last, `<!--${'x'.repeat(1.4e6)}-->$&`),
  'a model that cannot be read': damaged(/(id="model">.{400})./, '$1*'),
  'a part that cannot be switched off': damaged('data-thing="0"', 'disabled $&'),
  'a failure that is missing': damaged(' data-rehearsal="1"', ''),
  'a way out that is missing': damaged(' data-way="1"', ''),
  'a drawing that is missing': damaged(/ data-bent="\d+"/, ''),
  'the drawing of another panel': damaged('data-drawing="1"', 'data-drawing="0"'),
  'what sticks out sideways': damaged(last, '<p style="width: 600rem">wide</p>$&'),
});
