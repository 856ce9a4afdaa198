import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const project = resolve(import.meta.dirname, '..');
const source = join(project, 'src');

/** Every folder below src/ that holds code, by its way from there. */
const folders = [
  ...new Set(
    readdirSync(source, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => dirname(name)),
  ),
].filter((name) => name !== '.');

/** The paragraph below the heading, as one line; undefined where there is none. */
function purposeIn(text: string): string | undefined {
  return text
    .split(/\n\s*\n/)[1]
    ?.replaceAll(/\s+/g, ' ')
    .trim();
}

/** The files of code that a text names between backticks. */
function filesNamed(text: string): string[] {
  return [...text.matchAll(/`([\w./-]+\.tsx?)`/g)].map(([, name]) => name!);
}

describe('the README of a folder of src/', () => {
  it('is asked of folders', () => {
    expect(folders.length).toBeGreaterThan(50);
  });

  it.each(folders)(
    '%s says what the folder is for, and names no file that is not there',
    (name) => {
      const folder = join(source, name);
      const file = join(folder, 'README.md');
      expect(existsSync(file), `${relative(project, file)} is missing`).toBe(true);
      const text = readFileSync(file, 'utf8');
      expect(text.split('\n')[0]).toBe(`# ${basename(folder)}`);
      // A sentence: a capital, some words, a full stop.
      expect(purposeIn(text)).toMatch(/^[A-Z](?:\S* ){4,}.*\.$/);
      const around = [folder, source, project];
      const missing = filesNamed(text).filter(
        (named) => !around.some((from) => existsSync(join(from, named))),
      );
      expect(missing).toEqual([]);
    },
  );
});
