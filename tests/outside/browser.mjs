// The browser that judges pages: Chromium, drawing in software (CHROMIUM names another one than `chromium`).
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { installed } from './judging.mjs';

const puppeteer = installed('puppeteer-core');

export const source = `Chromium, puppeteer-core ${installed('puppeteer-core/package.json').version}`;

/** A desk and a phone held upright, each with the look that the other does not ask for; the phone wants no motion. */
export const SIZES = [
  { name: 'desk', width: 1280, height: 800, deviceScaleFactor: 1, isMobile: false, hasTouch: false, look: 'light', motion: 'no-preference' },
  { name: 'phone', width: 390, height: 844, deviceScaleFactor: 2, isMobile: true, hasTouch: true, look: 'dark', motion: 'reduce' },
];

/** Without a graphics card, so that every machine judges alike. */
export const SOFTWARE = ['--enable-unsafe-swiftshader', '--use-angle=swiftshader'];

export const launch = (...args) => puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', headless: true,
  args: ['--no-sandbox', '--force-color-profile=srgb', ...args],
});
export const pageIn = (folder) => pathToFileURL(path.resolve(folder, 'page.html')).href;

/** A new tab for the page at an address; it keeps what else is asked for, files beside it too, and which errors it says. */
export async function tab(browser, address, size) {
  const page = await browser.newPage();
  const [requests, errors] = [[], []];
  page.on('request', (r) => { if (r.url() !== address && !/^(data|blob):/.test(r.url())) requests.push(r.url()); });
  page.on('console', (m) => { if (m.type() === 'error') errors.push(m.text()); });
  page.on('pageerror', (e) => errors.push(e.message));
  if (size) {
    await page.setViewport(size);
    await page.emulateMediaFeatures([
      { name: 'prefers-color-scheme', value: size.look }, { name: 'prefers-reduced-motion', value: size.motion },
    ]);
  }
  return { page, requests, errors };
}

/**
 * Opens the page; how long it took, ms: by the clock of this program, from before the browser is asked for the file until
 * the drawn model has been read back from it, whatever is not yet drawn then being drawn first.
 */
export async function open(page, url) {
  const begin = performance.now();
  await page.goto(url, { waitUntil: 'domcontentloaded' });
  await page.waitForFunction('document.documentElement.dataset.ready', { timeout: 60000, polling: 20 });
  await drawn(page);
  return performance.now() - begin;
}

/** What is drawn: a number that differs where any of it does, read a moment after it was asked for. */
export function drawn(page) {
  return page.evaluate(async () => {
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    const gl = document.getElementById('model-view').getContext('webgl2');
    const pixels = new Uint32Array(gl.drawingBufferWidth * gl.drawingBufferHeight);
    gl.readPixels(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(pixels.buffer));
    let sum = 0;
    for (let k = 0; k < pixels.length; k += 1) sum = (Math.imul(sum, 31) + pixels[k]) | 0;
    return sum;
  });
}
