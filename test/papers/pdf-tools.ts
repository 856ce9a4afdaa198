/** Independent readers of PDF files and of what is printed in them. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { outside } from '../support/outside.ts';

const isThere = (tool: string, args: string[]): boolean =>
  spawnSync(tool, args).error === undefined;

export const poppler = outside(
  'poppler',
  ['pdftotext', 'pdftoppm', 'pdfinfo'].every((tool) => isThere(tool, ['-v'])),
);

export const codeReader = outside('zbar', isThere('zbarimg', ['--version']) && !poppler.missing);

function run(tool: string, args: readonly string[]): string {
  const done = spawnSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (done.status !== 0) throw new Error(`${tool}: ${done.stderr}`);
  return done.stdout;
}

function withFile<T>(pdf: Uint8Array, use: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'paper-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, pdf);
    return use(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The text of each page. */
export function pagesOf(pdf: Uint8Array): string[] {
  const text = withFile(pdf, (file) => run('pdftotext', ['-layout', file, '-']));
  return text.split('\f').slice(0, -1);
}

/** A word where it is printed: mm from the page's top left. */
export interface Word {
  readonly page: number;
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** All words, with the page's size. */
export function wordsOf(pdf: Uint8Array): {
  words: Word[];
  size: { width: number; height: number };
} {
  const markup = withFile(pdf, (file) => run('pdftotext', ['-bbox', file, '-']));
  const mm = (points: string): number => (Number(points) * 25.4) / 72;
  const words: Word[] = [];
  let page = 0;
  const size = { width: 0, height: 0 };
  for (const line of markup.split('\n')) {
    const sheet = /<page width="([\d.]+)" height="([\d.]+)"/.exec(line);
    if (sheet !== null) {
      page += 1;
      size.width = mm(sheet[1]!);
      size.height = mm(sheet[2]!);
    }
    const word =
      /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)<\/word>/.exec(
        line,
      );
    if (word === null) continue;
    const [left, top, right, bottom] = word.slice(1, 5).map(mm) as [number, number, number, number];
    words.push({ page, text: plain(word[5]!), left, top, right, bottom });
  }
  return { words, size };
}

function plain(text: string): string {
  return text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll(/&apos;|&#39;/g, "'")
    .replaceAll('&amp;', '&');
}

/** How many pages there are. */
export function pageCount(pdf: Uint8Array): number {
  const told = withFile(pdf, (file) => run('pdfinfo', [file]));
  return Number(/^Pages: +(\d+)$/m.exec(told)![1]);
}

/** How pieces of pages look, each in grey at 144 dots to the inch: a picture as PGM. */
export function looksOf(pdf: Uint8Array, fields: readonly Field[]): string[] {
  const dots = (mm: number): string => String(Math.round((mm * 144) / 25.4));
  return withFile(pdf, (file, folder) =>
    fields.map(({ page, x, y, width, height }) => {
      const box = ['-x', dots(x), '-y', dots(y), '-W', dots(width), '-H', dots(height)];
      const picture = join(folder, 'look');
      const one = ['-f', String(page), '-l', String(page), '-singlefile'];
      run('pdftoppm', ['-r', '144', '-gray', ...one, ...box, file, picture]);
      return readFileSync(`${picture}.pgm`).toString('latin1');
    }),
  );
}

/** A piece of a page, mm from its top left. */
export interface Field {
  readonly page: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What the code in each field holds, looked at one by one as a scanner does; empty where none is read. */
export function codesIn(pdf: Uint8Array, fields: readonly Field[]): string[] {
  const dots = (mm: number): string => String(Math.round((mm * 300) / 25.4));
  return withFile(pdf, (file, folder) =>
    fields.map(({ page, x, y, width, height }) => {
      const box = ['-x', dots(x), '-y', dots(y), '-W', dots(width), '-H', dots(height)];
      const picture = join(folder, 'field');
      const one = ['-f', String(page), '-l', String(page), '-singlefile'];
      run('pdftoppm', ['-r', '300', '-gray', ...one, ...box, file, picture]);
      const args = ['--raw', '-q', '-Sdisable', '-Sqrcode.enable', `${picture}.pgm`];
      return spawnSync('zbarimg', args, { encoding: 'utf8' }).stdout.trim();
    }),
  );
}
