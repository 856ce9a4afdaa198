import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { platform } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { refuse } from '../base/findings.ts';
import type { Served } from '../web/serve.ts';
import type { Command } from './command.ts';
import { checkNumber } from './numbers.ts';
import type { Terminal } from './terminal.ts';

interface ServeArguments {
  port: number;
  open: boolean;
  folder: string;
}

export const serveCommand: Command<ServeArguments> = {
  command: 'serve',
  describe: 'the same work on a page in the browser, for this machine alone',
  builder: (args) =>
    args
      .option('port', {
        type: 'number',
        default: 8137,
        requiresArg: true,
        describe: 'where the page is; 0: any that is free',
      })
      .option('open', { type: 'boolean', default: false, describe: 'open the page in the browser' })
      .option('folder', {
        type: 'string',
        default: '.',
        requiresArg: true,
        describe: 'the workshop’s folder, which holds patterns/',
      })
      .example('$0 serve --open', 'until Ctrl-C'),
  run: async ({ port, open, folder }, terminal) => {
    checkNumber('port', z.number().int().min(0).max(65535), port);
    const workshop = resolve(folder);
    if (!existsSync(join(workshop, 'patterns'))) {
      refuse(
        'folder',
        'this folder holds no patterns/.',
        'Run it in the workshop’s folder, or name that with --folder.',
        { file: workshop },
      );
    }
    await serveUntilStopped(workshop, port, terminal, ({ url }) => {
      terminal.say(`page      ${url}  (Ctrl-C ends it)`);
      if (open) openPage(url, terminal);
    });
    return 0;
  },
};

/** Serves the page until Ctrl-C or SIGTERM: both are normal ends. */
async function serveUntilStopped(
  folder: string,
  port: number,
  terminal: Terminal,
  ready: (served: Served) => void,
): Promise<void> {
  const { openPageServer, openServerThreads, serveOnPort } = await server();
  const threads = openServerThreads(4);
  const [quick, drafts] = [openServerThreads(1, 'lasting'), openServerThreads(1, 'lasting')];
  let bound = port;
  const key = randomBytes(24).toString('base64url');
  const page = await openPageServer({
    folder,
    key,
    port: () => bound,
    pageFolder: pageFolder(),
    threads,
    quick,
    drafts,
  });
  try {
    const served = await serveOnPort(page.app, port);
    bound = served.port;
    // Before anybody is told that the page is there: whoever knows of it may stop it.
    const stop = stopAsked(terminal);
    ready(served);
    await stop;
    terminal.say('ending: what is under way is finished or saved first; Ctrl-C again ends at once');
    await served.close();
  } finally {
    await page.close();
    await Promise.all([threads, quick, drafts].map((pool) => pool.close()));
  }
}

/** Loads the server. It is loaded only here, so that the other commands begin sooner. */
async function server() {
  const [app, threads, serve] = await Promise.all([
    import('../web/app.ts'),
    import('../web/tasks/threads.ts'),
    import('../web/serve.ts'),
  ]);
  return { ...app, ...threads, ...serve };
}

/** The folder of the built page. It depends on whether this code runs from its sources or built. */
function pageFolder(): string {
  const way = import.meta.url.endsWith('.js') ? '../web/page' : '../../dist/web/page';
  return fileURLToPath(new URL(way, import.meta.url));
}

/** One Ctrl-C may arrive twice within this time, ms: the terminal sends it, and npx passes it on too. */
const sameStop = 500;

/** Waits for Ctrl-C or SIGTERM. A second one ends the program at once. */
function stopAsked({ onSignal, endAtOnce }: Terminal): Promise<void> {
  let first: number | null = null;
  return new Promise((stop) => {
    onSignal(['SIGINT', 'SIGTERM'], () => {
      if (first === null) stop();
      else if (performance.now() - first > sameStop) endAtOnce();
      first ??= performance.now();
    });
  });
}

const openers: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = {
  darwin: ['open'],
  win32: ['cmd', '/c', 'start', ''],
};

/** Opens the page in the user's browser. If that fails, prints its address to be typed. */
function openPage(url: string, { warn }: Terminal): void {
  const [command, ...args] = openers[platform()] ?? ['xdg-open'];
  const failed = (): void => warn(`No browser could be opened. Open ${url} yourself.`);
  spawn(command!, [...args, url], { detached: true, stdio: 'ignore' })
    .on('error', failed)
    .on('exit', (code) => code !== 0 && failed())
    .unref();
}
