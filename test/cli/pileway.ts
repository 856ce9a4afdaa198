import { execFile, spawn, spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { platform, tmpdir } from 'node:os';
import { join, sep } from 'node:path';
import { outside } from '../support/outside.ts';

/** The product as it ships: built, and run by node in a process of its own. */

const project = join(import.meta.dirname, '../..');

export interface Built {
  readonly main: string;
  /** Removes it. */
  readonly remove: () => void;
}

export function build(): Built {
  const folder = mkdtempSync(join(tmpdir(), 'built-'));
  const main = buildInto(folder);
  return { main, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Compiles the product into a folder, and gives its main file. */
function buildInto(folder: string): string {
  const compiler = join(project, 'node_modules/typescript/bin/tsc');
  // Types are held to elsewhere; here they would only take time.
  const options = ['-p', join(project, 'tsconfig.build.json'), '--noCheck'];
  options.push('--outDir', join(folder, 'dist'));
  const run = spawnSync(process.execPath, [compiler, ...options], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stdout + run.stderr);
  copyFileSync(join(project, 'package.json'), join(folder, 'package.json'));
  symlinkSync(join(project, 'node_modules'), join(folder, 'node_modules'), 'junction');
  return join(folder, 'dist/cli/pileway.js');
}

/** The main file of the product with its page, built once for all test files: the others wait for the first. */
export function mainWithPage(): string {
  const folder = join(process.env['PILEWAY_SHARED']!, 'built');
  const isBuilt = join(folder, 'is-built');
  if (mkdirSync(folder, { recursive: true }) !== undefined) {
    buildPage(buildInto(folder));
    writeFileSync(isBuilt, '');
  }
  const until = Date.now() + 100_000;
  while (!existsSync(isBuilt)) {
    if (Date.now() > until) throw new Error('another test file could not build the product');
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 100);
  }
  return join(folder, 'dist/cli/pileway.js');
}

function buildPage(main: string): void {
  const vite = join(project, 'node_modules/vite/bin/vite.js');
  const options = ['build', '-c', join(project, 'src/web/page/vite.config.ts')];
  options.push('--outDir', join(main, '../../web/page'), '--logLevel', 'warn');
  // Whoever runs the tests says so in the environment; what ships is made without.
  const env = { ...process.env, NODE_ENV: 'production' };
  const run = spawnSync(process.execPath, [vite, ...options], { encoding: 'utf8', env });
  if (run.status !== 0) throw new Error(run.stdout + run.stderr);
}

export interface Outcome {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Root may write anywhere; without its capabilities it is held to the rights of files like anybody. */
const withoutPrivileges: readonly string[] =
  process.getuid?.() === 0 ? ['setpriv', '--bounding-set=-all', '--inh-caps=-all'] : [];

/** Whether a process can be had that the rights of files hold for. */
export const fileRights = outside(
  'setpriv',
  withoutPrivileges.length === 0
    ? platform() !== 'win32'
    : spawnSync(withoutPrivileges[0]!, [...withoutPrivileges.slice(1), 'true']).status === 0,
);

/** Whether a process can be sent Ctrl-C by another; on Windows it would simply end. */
export const signals = outside('signals', platform() !== 'win32');

/** Runs the product in a folder; without any privileges where it is there to be refused. */
export function pileway(
  main: string,
  folder: string,
  args: readonly string[],
  { privileged = true } = {},
): Promise<Outcome> {
  const prefix = privileged ? [] : withoutPrivileges;
  const [command, ...rest] = [...prefix, process.execPath, main, ...args];
  return new Promise((resolve) => {
    execFile(command!, rest, { cwd: folder, encoding: 'utf8' }, (error, stdout, stderr) => {
      const code = error === null ? 0 : typeof error.code === 'number' ? error.code : -1;
      resolve({ code, stdout, stderr: withSlashes(stderr) });
    });
  });
}

/** Messages name files as the system writes them; tests read them with `/`. */
export function withSlashes(message: string): string {
  return message.replaceAll(sep, '/');
}

/** Runs the product and sends it a signal (Ctrl-C) after three seconds, when it has long begun to search. */
export function interrupted(
  main: string,
  folder: string,
  args: readonly string[],
  signal: NodeJS.Signals = 'SIGINT',
): Promise<Outcome> {
  const child = spawn(process.execPath, [main, ...args], { cwd: folder });
  const said = { stdout: '', stderr: '' };
  child.stdout.on('data', (data: Buffer) => (said.stdout += data.toString()));
  child.stderr.on('data', (data: Buffer) => (said.stderr += data.toString()));
  const timer = setTimeout(() => child.kill(signal), 3000);
  return new Promise((resolve) => {
    child.on('close', (code) => {
      clearTimeout(timer);
      resolve({ code: code ?? -1, ...said });
    });
  });
}
