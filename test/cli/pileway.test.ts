import { spawn } from 'node:child_process';
import { closeSync, existsSync, openSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawingFile, inFolder, replaced, runFile, setFile, wren } from '../support/wren.ts';
import type { Built, Outcome } from './pileway.ts';
import { build, interrupted, pileway, signals } from './pileway.ts';

/** What only a process of its own shows; everything else about commands is tried without one. */

let built: Built;

beforeAll(() => {
  built = build();
});

afterAll(() => built.remove());

const faulty = replaced(wren, setFile, ', covered: the wing', '');

describe('the program as it is built', () => {
  it('ends with the exit code of its command, results on stdout and the rest on stderr', async () => {
    await inFolder(wren, async (root) => {
      const check = ['check', 'patterns/wren'];
      expect(await pileway(built.main, root, check)).toEqual({
        code: 0,
        stdout: 'patterns/wren: nothing found.\n',
        stderr: '',
      });
      const refused = await pileway(built.main, root, ['carve']);
      expect(refused).toMatchObject({ code: 2, stdout: '' });
      expect(refused.stderr).toMatch(/^Unknown command: carve.*\n$/);
    });
    await inFolder(faulty, async (root) => {
      const found = await pileway(built.main, root, ['check', 'patterns/wren']);
      expect(found).toMatchObject({ code: 1, stdout: '' });
      expect(found.stderr).toContain('[raw-on-show]');
    });
  });

  it('shows its help, and its version', async () => {
    const help = await pileway(built.main, '.', ['--help']);
    expect(help).toMatchObject({ code: 0, stderr: '' });
    expect(help.stdout).toMatch(/^pileway <command>\n/);
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    const stated = await pileway(built.main, '.', ['--version']);
    expect(stated).toEqual({ code: 0, stdout: `${version}\n`, stderr: '' });
  });

  it('lays in threads of its own: the same bytes for any number of them', async () => {
    await inFolder(wren, async (root) => {
      const cut = async (threads: string, ...more: string[]): Promise<Buffer> => {
        const args = ['cut', runFile, '--effort', '20', '--threads', threads, '--force', ...more];
        expect(await pileway(built.main, root, args)).toMatchObject({ code: 0 });
        return readFileSync(join(root, 'out/wren-week/run.json'));
      };
      const usual = await cut('1');
      expect((await cut('2')).equals(usual)).toBe(true);
      expect((await cut('3', '--streams', '2')).equals(usual)).toBe(true);
    });
  });
});

describe.skipIf(signals.missing)(`Ctrl-C${signals.note}`, () => {
  // The other signal is how a system asks programs to end.
  it.each(['SIGINT', 'SIGTERM'] as const)(
    'or its like (%s) while parts are being laid ends the run in words, with nothing written',
    async (signal) => {
      await inFolder(wren, async (root) => {
        const endless = ['cut', runFile, '--effort', '1000000000'];
        const { code, stderr, stdout } = await interrupted(built.main, root, endless, signal);
        expect(stderr).toContain(
          'the run was stopped while its parts were being laid. Nothing was written.',
        );
        expect(stderr).not.toMatch(/^ {4}at /m);
        expect({ code, stdout }).toEqual({ code: 130, stdout: '' });
        expect(existsSync(join(root, 'out')) ? readdirSync(join(root, 'out')) : []).toEqual([]);
      });
    },
  );
});

describe.skipIf(!existsSync('/dev/full'))('a disk that is full', () => {
  it('ends a command in words', async () => {
    await inFolder(wren, async (root) => {
      const full = openSync('/dev/full', 'w');
      const child = spawn(process.execPath, [built.main, 'check', 'patterns/wren'], {
        cwd: root,
        stdio: ['ignore', full, 'pipe'],
      });
      let stderr = '';
      child.stderr!.on('data', (data: Buffer) => (stderr += data.toString()));
      const code = await new Promise((resolve) => child.on('close', resolve));
      closeSync(full);
      expect(stderr).toBe('What pileway says cannot be written (ENOSPC): the disk may be full.\n');
      expect(code).toBe(2);
    });
  });
});

describe('a reader that closes the pipe', () => {
  it.each<[string, string[], 'stdout' | 'stderr', number]>([
    ['compare', ['compare', drawingFile, 'patterns/wren/other.dxf'], 'stdout', 1],
    ['read', ['read', drawingFile, '--json'], 'stdout', 0],
    ['an unknown command', ['carve'], 'stderr', 2],
    ['--help', ['--help'], 'stdout', 0],
  ])('ends %s quietly', async (_, args, closed, code) => {
    const other = { 'patterns/wren/other.dxf': String(faulty[drawingFile]).replace('550', '551') };
    await inFolder({ ...faulty, ...other }, async (root) => {
      const outcome = await withClosedPipe(root, args, closed);
      expect(outcome).toEqual({ code, stdout: '', stderr: '' });
    });
  });
});

/** Runs the product with nobody at the other end of stdout or of stderr. */
function withClosedPipe(
  folder: string,
  args: readonly string[],
  closed: 'stdout' | 'stderr',
): Promise<Outcome> {
  const child = spawn(process.execPath, [built.main, ...args], { cwd: folder });
  const said = { stdout: '', stderr: '' };
  child.stdout.on('data', (data: Buffer) => (said.stdout += data.toString()));
  child.stderr.on('data', (data: Buffer) => (said.stderr += data.toString()));
  child[closed].destroy();
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ code: code ?? -1, ...said }));
  });
}
