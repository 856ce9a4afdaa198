import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rooms, sharedWithPage } from '../src/order.ts';

const source = resolve(import.meta.dirname, '../src');

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
  .map((name) => name.split(sep).join('/'))
  .filter((name) => name !== 'order.ts');

interface Import {
  readonly to: string;
  readonly isType: boolean;
}

/** What a file imports from src/, of types too, by its way from there. */
function importsOf(file: string): Import[] {
  const text = readFileSync(join(source, file), 'utf8');
  const found = [
    ...text.matchAll(/(?:(import type|export type)[^;]*?from|from|import)\s*\(?\s*'(\.[^']+)'/g),
  ];
  return found.map(([, type, way]) => ({
    to: relative(source, resolve(source, dirname(file), way!))
      .split(sep)
      .join('/'),
    isType: type !== undefined,
  }));
}

const imports = new Map(files.map((file) => [file, importsOf(file)]));

function rankOf(file: string): number {
  return rooms.indexOf(file.split('/')[0] as (typeof rooms)[number]);
}

/** What can be reached from itself by following arrows, one loop as a list of names. Empty where there is none. */
function loopIn(arrows: ReadonlyMap<string, readonly string[]>): string[] {
  const done = new Set<string>();
  const follow = (name: string, way: readonly string[]): string[] => {
    const again = way.indexOf(name);
    if (again !== -1) return way.slice(again);
    if (done.has(name)) return [];
    for (const next of arrows.get(name) ?? []) {
      const loop = follow(next, [...way, name]);
      if (loop.length > 0) return loop;
    }
    done.add(name);
    return [];
  };
  for (const name of arrows.keys()) {
    const loop = follow(name, []);
    if (loop.length > 0) return loop;
  }
  return [];
}

describe('the order of the rooms', () => {
  it('has a place for every file', () => {
    expect(files.length).toBeGreaterThan(400);
    expect(files.filter((file) => rankOf(file) === -1)).toEqual([]);
  });

  it.each(files)('%s imports nothing downstream', (file) => {
    const downstream = imports.get(file)!.filter(({ to }) => rankOf(to) > rankOf(file));
    expect(downstream).toEqual([]);
  });

  it('has no files that import each other in a circle, types counted', () => {
    const arrows = files.map((file) => [file, imports.get(file)!.map(({ to }) => to)] as const);
    expect(loopIn(new Map(arrows))).toEqual([]);
    expect(loopIn(new Map([...arrows, ['base/findings.ts', ['web/app.ts']]]))).not.toEqual([]);
  });

  // A folder and one inside it may use each other: the outer holds the words, and what puts both together.
  it('has no folders side by side that import each other in a circle', () => {
    const isAround = (a: string, b: string): boolean => `${b}/`.startsWith(`${a}/`);
    const arrows = new Map<string, string[]>();
    for (const [file, found] of imports) {
      const folder = dirname(file);
      const others = found
        .map(({ to }) => dirname(to))
        .filter((other) => !isAround(folder, other) && !isAround(other, folder));
      arrows.set(folder, [...(arrows.get(folder) ?? []), ...others]);
    }
    expect(arrows.size).toBeGreaterThan(40);
    expect(loopIn(arrows)).toEqual([]);
  });
});

describe('the nesting engine', () => {
  const isInside = (file: string): boolean => file.startsWith('lay/engine/');

  it('has one door', () => {
    const past = files
      .filter((file) => !isInside(file))
      .flatMap((file) => imports.get(file)!.map(({ to }) => ({ file, to })))
      .filter(({ to }) => isInside(to) && to !== 'lay/engine/engine.ts');
    expect(past).toEqual([]);
    expect(files.filter(isInside).length).toBeGreaterThan(20);
  });

  it('needs nothing of this project but points, boxes, threads and the plainest helpers', () => {
    const outside = files
      .filter(isInside)
      .flatMap((file) => imports.get(file)!.map(({ to }) => to))
      .filter((to) => !isInside(to));
    const folders = new Set(outside.map(dirname));
    expect([...folders].toSorted()).toEqual(['base', 'base/threads', 'geometry/paths']);
  });

  it('knows nothing of carpets', () => {
    const words = /\b(carpets?|cloths?|piles?|rolls?|vehicles?|bites?|knife|mats?)\b/i;
    for (const file of files.filter(isInside)) {
      expect(readFileSync(join(source, file), 'utf8'), file).not.toMatch(words);
    }
  });
});

describe('the page', () => {
  const page = files.filter((file) => file.startsWith('web/page/'));
  const outwards = page.flatMap((file) =>
    imports
      .get(file)!
      .filter(({ to, isType }) => !to.startsWith('web/page/') && !isType)
      .map(({ to }) => ({ file, to })),
  );

  it('imports from outside its folder only types, and files that are named for it', () => {
    expect(page.length).toBeGreaterThan(50);
    expect(outwards.filter(({ to }) => !sharedWithPage.includes(to))).toEqual([]);
  });

  const running = (file: string): string[] =>
    imports.get(file)!.flatMap(({ to, isType }) => (isType ? [] : [to]));

  it.each(sharedWithPage)('may import %s, which runs in a browser and is wanted there', (file) => {
    expect(running(file).filter((to) => !sharedWithPage.includes(to))).toEqual([]);
    expect(readFileSync(join(source, file), 'utf8')).not.toMatch(
      /^import (?!type)[^;]*from '[^.]/m,
    );
    const wanted = [...outwards.map(({ to }) => to), ...sharedWithPage.flatMap(running)];
    expect(wanted).toContain(file);
  });
});
