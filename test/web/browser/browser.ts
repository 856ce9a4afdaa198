/// <reference lib="dom" />
/** The product in the browser of a person: built, served from a workshop, opened and looked at. */
import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import { expect } from 'vitest';
import { mainWithPage } from '../../cli/pileway.ts';
import { gateOnly, outside } from '../../support/outside.ts';
import type { Files } from '../../support/wren.ts';
import { openWorkshop } from '../../support/wren.ts';

/** It draws no window of its own, which saves a quarter of the time, but it shows no PDF. */
const withoutWindow = '/usr/bin/chromium-headless-shell';
const whole = '/usr/bin/chromium';

const installed = outside('Chromium', [withoutWindow, whole].every(existsSync));

/** A browser takes too long for everyday work: the gate alone opens one. */
export const chromiumHere = installed.missing ? installed : gateOnly;

/** A server of the product in a process of its own. */
interface Server {
  /** `http://127.0.0.1:PORT/` */
  readonly url: string;
  /** By Ctrl-C, as a person does. */
  readonly stop: () => Promise<void>;
  /** As where the machine fails: nothing is ended or saved. */
  readonly kill: () => Promise<void>;
}

/** A workshop with its server and somebody's browser. */
export interface Bench {
  /** The main file of the product as built. */
  readonly main: string;
  readonly root: string;
  readonly browser: Browser;
  readonly url: () => string;
  /** Opens a window of its own, as for a person who was never here. */
  readonly open: (address?: string, options?: BrowserContextOptions) => Promise<Window>;
  /** Ends the server and starts it anew, at another address. */
  readonly restart: () => Promise<void>;
  /** Kills the server; what it gives starts another one at the same address. */
  readonly kill: () => Promise<() => Promise<void>>;
  readonly close: () => Promise<void>;
}

export interface Window {
  readonly page: Page;
  /** What the browser has complained of: failures of scripts, and what the security policy forbids. */
  readonly complaints: string[];
}

/** Builds the product and opens it for a workshop with these files; `showsPdf`: in a browser that does. */
export async function openBench(files: Files, { showsPdf = false } = {}): Promise<Bench> {
  const main = mainWithPage();
  const { root, close } = openWorkshop(files);
  let server = await serve(main, root);
  const executablePath = showsPdf ? whole : withoutWindow;
  const browser = await chromium.launch({ executablePath, args: browserArgs });
  return {
    main,
    root,
    browser,
    url: () => server.url,
    open: (address = '', options = {}) => openWindow(browser, server.url + address, options),
    restart: async () => {
      await server.stop();
      server = await serve(main, root);
    },
    kill: async () => {
      await server.kill();
      const { port } = new URL(server.url);
      return async () => {
        server = await serve(main, root, port);
      };
    },
    close: async () => {
      await browser.close();
      await server.stop();
      close();
    },
  };
}

const browserArgs = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

async function serve(main: string, root: string, port = '0'): Promise<Server> {
  const args = [main, 'serve', '--port', port, '--folder', root];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const closed = new Promise<void>((resolve) => child.on('close', () => resolve()));
  return {
    url: await addressSaid(child),
    stop: () => {
      child.kill('SIGINT');
      return closed;
    },
    kill: () => {
      child.kill('SIGKILL');
      return closed;
    },
  };
}

function addressSaid(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stdout!.on('data', (data: Buffer) => {
      said += data.toString();
      const url = /http:\/\/127\.0\.0\.1:\d+\//.exec(said)?.[0];
      if (url !== undefined) resolve(url);
    });
    child.on('close', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
  });
}

async function openWindow(
  browser: Browser,
  address: string,
  options: BrowserContextOptions,
): Promise<Window> {
  const viewport = { width: 1440, height: 900 };
  const context = await browser.newContext({ viewport, reducedMotion: 'reduce', ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    const isBad = message.type() === 'error' || message.type() === 'warning';
    if (isBad) complaints.push(message.text());
  });
  await page.goto(address);
  return { page, complaints };
}

/** Nothing has failed but requests that the server refused with one of these. */
export function expectNoComplaints({ complaints }: Window, ...refusals: number[]): void {
  const isRefusal = (text: string): boolean =>
    refusals.some((status) => text.includes(`responded with a status of ${status} `));
  expect(complaints.filter((text) => !isRefusal(text))).toEqual([]);
}

/** Waits until what is looked at again and again is as it must be. */
export function soon<T>(look: () => T | Promise<T>): ReturnType<typeof expect.poll<T>> {
  return expect.poll(look, { timeout: 15_000, interval: 100 });
}

/** Asks the server as the page does. */
export function asked<T>(page: Page, path: string): Promise<T> {
  return page.evaluate(async (address) => {
    const { content } = document.querySelector<HTMLMetaElement>('meta[name="pileway-key"]')!;
    const answer = await fetch(address, { headers: { 'x-pileway-key': content } });
    return (await answer.json()) as T;
  }, path);
}

/** A figure of the lay in its unit: the length in m, or how much is used in percent. */
export async function figure(page: Page, name: 'length' | 'density'): Promise<number> {
  const words = await page.locator(`[data-test="${name}"]`).textContent();
  return Number.parseFloat(words!);
}

/** Seconds that the search says are left. */
export async function timeLeft(page: Page, timeout?: number): Promise<number> {
  const words = await page
    .locator('.search-left strong')
    .textContent(timeout === undefined ? {} : { timeout });
  const [minutes, seconds] = words!.split(':').map(Number);
  return 60 * minutes! + seconds!;
}

/** Has the parts laid for about so many seconds of a search that would take ten minutes, unless it can find nothing shorter. */
export async function layParts(page: Page, seconds = 1): Promise<void> {
  await beginSearch(page);
  const isDone = async (): Promise<boolean> =>
    (await isOver(page)) || (await timeLeft(page, 500).catch(() => 600)) <= 599 - seconds;
  await soon(isDone).toBe(true);
  await stopSearch(page);
}

export async function beginSearch(page: Page): Promise<void> {
  await page.getByLabel('Search for').selectOption('10 min');
  await page.getByRole('button', { name: /^(Lay the parts|Go on searching)$/ }).click();
  await page.getByRole('button', { name: /^(Good enough: stop|Go on searching)$/ }).waitFor();
  await page.locator('[data-test="length"]', { hasText: / m$/ }).waitFor();
}

/** A search that can find nothing shorter ends by itself, maybe just as it is to be stopped. */
export async function stopSearch(page: Page): Promise<void> {
  const stop = page.getByRole('button', { name: 'Good enough: stop' });
  const latest = Date.now() + 15_000;
  while (!(await isOver(page))) {
    if (Date.now() > latest) throw new Error('the search does not end');
    await stop.click({ timeout: 500 }).catch(() => page.waitForTimeout(50));
  }
}

function isOver(page: Page): Promise<boolean> {
  return page.getByRole('button', { name: 'Go on searching' }).isVisible();
}
