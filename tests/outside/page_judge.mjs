// Judges pages: opened in a browser at the size of a phone and of a desk, they show and play what they hold, ask nothing
// of the network, say no error, and are small and quick enough.
//
//   node tests/outside/page_judge.mjs [--pictures FOLDER] PAGE.html ...
//
// Independent program: Chromium (CHROMIUM names another one than `chromium`). Packages: `npm ci` in tests/outside/node.
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

const puppeteer = createRequire(new URL('node/package.json', import.meta.url))('puppeteer-core');

const MOST_BYTES = 1.5e6;
const MOST_MS = 2000;
const SIZES = [
  { name: 'desk', width: 1280, height: 800, deviceScaleFactor: 1, isMobile: false, hasTouch: false, look: 'light' },
  { name: 'phone', width: 390, height: 844, deviceScaleFactor: 2, isMobile: true, hasTouch: true, look: 'dark' },
];

const files = process.argv.slice(2);
const pictures = files[0] === '--pictures' ? files.splice(0, 2)[1] : null;
if (files.length === 0) {
  console.error('page_judge: name at least one page');
  process.exit(2);
}

const counts = { passed: 0, failed: 0 };
function check(what, holds, found) {
  counts[holds ? 'passed' : 'failed'] += 1;
  if (!holds) console.log(`FAILED ${what}: ${found}`);
}
const wait = (ms) => new Promise((done) => setTimeout(done, ms));

async function judge(browser, file, size) {
  const about = (what) => `${path.basename(file)}, ${size.name}: ${what}`;
  const page = await browser.newPage();
  const [requests, errors] = [[], []];
  const own = pathToFileURL(path.resolve(file)).href;
  page.on('request', (r) => { if (r.url() !== own && !/^(data|blob):/.test(r.url())) requests.push(r.url()); });
  page.on('console', (m) => { if (m.type() === 'error') errors.push(m.text()); });
  page.on('pageerror', (e) => errors.push(e.message));
  await page.setViewport(size);
  await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: size.look }]);
  await page.goto(own);
  await page.waitForFunction('document.documentElement.dataset.ready', { timeout: 60000 });
  const ready = await page.evaluate(() => document.documentElement.dataset.ready);
  check(about('it draws the model'), Number(ready) > 0, ready);
  check(about(`ready within ${MOST_MS} ms`), Number(ready) <= MOST_MS, `${ready} ms`);
  check(about('it looks as the device asks'), (await page.evaluate(() => document.documentElement.dataset.look)) === size.look, 'it does not');

  const shot = async (name) => {
    if (pictures) await page.screenshot({ path: path.join(pictures, `${path.basename(file, '.html')}-${size.name}-${name}.png`) });
  };
  // What is drawn, read a moment after it was asked for.
  const drawn = async () => {
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    return page.evaluate(() => document.getElementById('model-view').toDataURL());
  };
  const press = async (selector) => {
    await page.evaluate((s) => {
      const target = document.querySelector(s);
      for (let d = target.closest('details'); d; d = d.parentElement.closest('details')) {
        if (!target.closest('summary') || d !== target.closest('details')) d.open = true;
      }
      target.scrollIntoView({ block: 'center' });
    }, selector);
    const target = await page.$(selector);
    if (size.hasTouch) await target.tap();
    else await target.click();
  };

  const whole = await drawn();
  await shot('whole');
  const isWide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth + 1);
  check(about('nothing sticks out sideways'), !isWide, 'it does');

  // A finger or the mouse in the middle of the model meets a part of it.
  await page.evaluate(() => scrollTo(0, 0));
  const box = await (await page.$('#model-view')).boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  if (size.hasTouch) await page.touchscreen.tap(x, y);
  else await page.mouse.click(x, y);
  const told = await page.$eval('#told', (e) => (e.hidden ? '' : e.innerText));
  check(about('a tap tells of a part'), told.includes('in the file'), told || 'nothing is told');
  check(about('what is picked is marked'), (await drawn()) !== whole, 'the picture is the same');
  await shot('picked');
  await page.keyboard.press('Escape');
  check(about('Escape lets it go'), (await drawn()) === whole, 'the picture is another');

  await press('[data-thing="0"]');
  check(about('a part is switched off'), (await drawn()) !== whole, 'the picture is the same');
  await press('[data-thing="0"]');
  check(about('and on again'), (await drawn()) === whole, 'the picture is another');

  if (!size.hasTouch) {
    await page.focus('#model-view');
    await page.keyboard.press('ArrowLeft');
    check(about('arrow keys turn it'), (await drawn()) !== whole, 'the picture is the same');
    await page.keyboard.press('0');
    check(about('0 shows all of it'), (await drawn()) === whole, 'the picture is another');
  }

  await press('[data-way]');
  await page.waitForFunction(() => Number(document.getElementById('tl-at').value) > 100, { timeout: 60000 });
  const words = await page.$eval('#tl-words', (e) => e.textContent);
  check(about('a way out is told while it plays'), words.length > 3, words);
  await page.click('#tl-play');
  const held = await drawn();
  await shot('way');
  await page.$eval('#tl-at', (e) => { e.value = '1000'; e.dispatchEvent(new Event('input')); });
  check(about('a way out moves the part'), (await drawn()) !== held, 'the picture is the same');
  await shot('out');
  await page.click('#tl-close');
  await page.evaluate(() => scrollTo(0, 0));
  await wait(200);
  check(about('and puts it back'), (await drawn()) === whole, 'the picture is another');

  const levels = () => page.$$eval('[data-basin]', (cells) => cells.map((cell) => cell.textContent).join());
  const before = await levels();
  await press('[data-rehearsal]');
  await page.waitForFunction(() => Number(document.getElementById('tl-at').value) > 250, { timeout: 60000 });
  await page.click('#tl-play');
  check(about('levels move while a failure plays'), (await levels()) !== before, before);
  check(about('and curves are drawn'), (await page.$$('#tl-curves polyline')).length > 0, 'none');
  await shot('rehearsal');
  await page.click('#tl-close');
  check(about('and levels are as before'), (await levels()) === before, await levels());

  await page.click('#look');
  check(about('the switch changes the look'), (await page.evaluate(() => document.documentElement.dataset.look)) !== size.look, 'it does not');
  await page.evaluate(() => { document.documentElement.style.fontSize = '200%'; scrollTo(0, 0); });
  const sticksOut = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth + 1);
  check(about('twice the size of text fits too'), !sticksOut, 'it sticks out sideways');
  await shot('large');
  check(about('no request leaves the page'), requests.length === 0, requests.join(' '));
  check(about('no error is said'), errors.length === 0, errors.join(' | '));
  await page.close();
  return Number(ready);
}

// Where the browser draws no model, one sentence says so, and the rest is there to read.
async function judgeWithoutModel(browser, file) {
  const about = (what) => `${path.basename(file)}, without WebGL: ${what}`;
  const page = await browser.newPage();
  const errors = [];
  page.on('console', (m) => { if (m.type() === 'error') errors.push(m.text()); });
  page.on('pageerror', (e) => errors.push(e.message));
  await page.goto(pathToFileURL(path.resolve(file)).href);
  await page.waitForFunction('document.documentElement.dataset.ready', { timeout: 60000 });
  const said = await page.$eval('#no-model', (e) => (e.hidden ? '' : e.innerText));
  check(about('a sentence says why'), said.includes('cannot draw'), said || 'nothing is said');
  const text = await page.$eval('#cards', (e) => e.innerText);
  check(about('the rest can be read'), text.includes('Findings') && text.includes('Water'), text.slice(0, 200));
  check(about('what needs the model is off'), await page.$eval('[data-way]', (e) => e.disabled), 'it is on');
  check(about('no error is said'), errors.length === 0, errors.join(' | '));
  await page.close();
}

const open = (...args) => puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', headless: true, args: ['--no-sandbox', ...args],
});
const browser = await open('--enable-unsafe-swiftshader');
for (const file of files) {
  const bytes = fs.statSync(file).size;
  check(`${path.basename(file)}: at most ${MOST_BYTES} bytes`, bytes <= MOST_BYTES, bytes);
  const times = [];
  for (const size of SIZES) times.push(`${size.name} ${await judge(browser, file, size)} ms`);
  console.log(`${path.basename(file)}: ${bytes} bytes, ready ${times.join(', ')}`);
}
await browser.close();
const blind = await open('--disable-3d-apis');
await judgeWithoutModel(blind, files[0]);
await blind.close();
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed > 0 ? 1 : 0);
