/**
 * The page in a browser, as built in dist/: `npm run bench:page`. How soon the first picture is there, how
 * many pictures a second a search shows, and how smoothly a lay of 2,016 parts is zoomed and moved and the
 * program of its 120,000 moves is played; each beside an empty page in the same browser. Needs Chromium.
 */
import { spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { chromium } from 'playwright-core';

const root = join(import.meta.dirname, '../..');
const main = join(root, 'dist/cli/pileway.js');
const folder = mkdtempSync(join(tmpdir(), 'pileway-bench-'));
const quiet = ['--no-first-run', '--disable-background-networking', '--disable-component-update'];

const big = `title: Big
cutter: long-bay
orders:
  - { order: A, set: fenlark, hand: RHD, carpet: { colour: sand }, quantity: 42, boards: false, underlay: false }
  - { order: B, set: fenlark, hand: LHD, carpet: { colour: sand }, quantity: 42, boards: false, underlay: false }
`;

// As text: what builds this file would put names into functions that the browser does not know.
const countPictures = `
  window.pictures = 0;
  const listen = EventSource.prototype.addEventListener;
  EventSource.prototype.addEventListener = function (kind, heed, how) {
    if (kind === 'lay' || kind === 'trying') {
      listen.call(this, kind, () => requestAnimationFrame(() => (window.pictures += 1)));
    }
    return listen.call(this, kind, heed, how);
  };
`;
const watchFrames = `
  window.frames_ = [];
  window.watching = true;
  let last = performance.now();
  requestAnimationFrame(function step(now) {
    window.frames_.push(now - last);
    last = now;
    if (window.watching) requestAnimationFrame(step);
  });
`;
const endWatch = `window.watching = false, window.frames_.slice(2)`;

let server: ChildProcess | null = null;
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-sync', ...quiet],
});
try {
  for (const name of ['patterns', 'shared'])
    cpSync(join(root, name), join(folder, name), { recursive: true });
  writeFileSync(join(folder, 'patterns/big.yaml'), big);
  const cut = ['cut', join(folder, 'patterns/big.yaml'), '--seconds', '2'];
  spawnSync(process.execPath, [main, ...cut], { stdio: 'ignore' });
  const started = await startServer();
  server = started.server;
  const { url } = started;

  const empty = await framesWhile(await openPage('about:blank'), () => Promise.resolve());
  const blank = await firstPicture('about:blank', 'body');
  report('first picture, ms', await firstPicture(url, '.run-card'), blank);

  const lay = await openPage(`${url}#/run/fenlark-week/lay`);
  await lay.getByRole('button', { name: 'Lay the parts' }).click();
  await lay.waitForTimeout(1000);
  const before = await picturesOf(lay);
  await lay.waitForTimeout(4000);
  console.log(
    `pictures a second of a search: ${(((await picturesOf(lay)) - before) / 4).toFixed(1)}`,
  );
  await lay.getByRole('button', { name: /stop/ }).click();

  const roll = await openPage(`${url}#/out/big`);
  const canvas = roll.locator('.roll-canvas').first();
  await canvas.waitFor({ timeout: 120_000 });
  await canvas.scrollIntoViewIfNeeded();
  reportFrames('zooming 2,016 parts', await framesWhile(roll, () => zoomAbout(roll)), empty);
  reportFrames('moving 2,016 parts', await framesWhile(roll, () => moveAbout(roll)), empty);

  const rehearsal = roll;
  const pressed = performance.now();
  await rehearsal.getByRole('link', { name: 'Rehearsal' }).click();
  await rehearsal.getByRole('slider').waitFor({ timeout: 60_000 });
  console.log(`rehearsal, its link pressed: ${(performance.now() - pressed).toFixed(0)} ms`);
  const opened = performance.now();
  const anew = await openPage(`${url}#/out/big/rehearsal`, false);
  await anew.getByRole('slider').waitFor({ timeout: 60_000 });
  console.log(`rehearsal, opened in a new window: ${(performance.now() - opened).toFixed(0)} ms`);
  await anew.close();
  await rehearsal.getByRole('button', { name: 'Play' }).click();
  reportFrames('playing 120,000 moves', await framesWhile(rehearsal, () => wait(4000)), empty);
  const scrubbed = await framesWhile(rehearsal, () => scrub(rehearsal));
  reportFrames('scrubbing them', scrubbed, empty);
} finally {
  await browser.close();
  server?.kill('SIGINT');
  rmSync(folder, { recursive: true });
}

function startServer(): Promise<{ server: ChildProcess; url: string }> {
  const child = spawn(process.execPath, [main, 'serve', '--port', '0', '--folder', folder]);
  return new Promise((resolve) => {
    child.stdout.on('data', (said: Buffer) => {
      const url = /http:\S+/.exec(said.toString())?.[0];
      if (url !== undefined) resolve({ server: child, url });
    });
  });
}

/** A page at 1440 x 900 that counts the pictures which a search sends. */
async function openPage(url: string, isIdle = true): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.addInitScript(countPictures);
  await page.goto(url);
  if (isIdle) await page.waitForTimeout(500);
  return page;
}

function picturesOf(page: Page): Promise<number> {
  return page.evaluate('window.pictures');
}

/** ms until something is seen, best of three. */
async function firstPicture(url: string, selector: string): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < 3; i++) {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    const start = performance.now();
    await page.goto(url);
    await page.locator(selector).first().waitFor();
    await page.evaluate(() => new Promise((seen) => requestAnimationFrame(seen)));
    times.push(performance.now() - start);
    await page.close();
  }
  return Math.min(...times);
}

/** ms between frames while something is done, for at least two seconds. */
async function framesWhile(page: Page, act: () => Promise<void>): Promise<number[]> {
  await page.bringToFront();
  await page.evaluate(watchFrames);
  await act();
  await page.waitForTimeout(2000);
  return page.evaluate(endWatch);
}

async function middleOf(page: Page): Promise<{ x: number; y: number }> {
  const box = (await page.locator('.roll-canvas').first().boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

async function zoomAbout(page: Page): Promise<void> {
  const { x, y } = await middleOf(page);
  await page.mouse.move(x, y);
  for (let i = 0; i < 60; i++) await page.mouse.wheel(0, i % 40 < 20 ? -120 : 120);
}

async function moveAbout(page: Page): Promise<void> {
  const { x, y } = await middleOf(page);
  await page.mouse.move(x, y);
  await page.mouse.down({ button: 'middle' });
  for (let i = 0; i < 100; i++) await page.mouse.move(x + 400 * Math.sin(i / 8), y);
  await page.mouse.up({ button: 'middle' });
}

async function scrub(page: Page): Promise<void> {
  const slider = page.getByRole('slider');
  const most = Number(await slider.getAttribute('max'));
  for (let i = 0; i < 40; i++) await slider.fill(String(Math.round((most * ((i * 7) % 40)) / 40)));
}

function wait(ms: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, ms);
  });
}

function report(what: string, ours: number, reference: number): void {
  const ratio = (ours / reference).toFixed(2);
  console.log(`${what}: ${ours.toFixed(0)}, an empty page ${reference.toFixed(0)}, ratio ${ratio}`);
}

/** Frames a second, and the longest that nineteen of twenty take, beside an empty page. */
function reportFrames(what: string, ours: readonly number[], reference: readonly number[]): void {
  const [own, other] = [ours, reference].map(
    (frames) => (1000 * frames.length) / frames.reduce((sum, frame) => sum + frame, 0),
  );
  const sorted = [...ours].sort((a, b) => a - b);
  const most = sorted[Math.floor(0.95 * sorted.length)]!;
  console.log(
    `${what}: ${own!.toFixed(1)} frames a second, an empty page ${other!.toFixed(1)}, ratio ${(own! / other!).toFixed(2)}; 95 % within ${most.toFixed(0)} ms, longest ${sorted.at(-1)!.toFixed(0)} ms`,
  );
}
