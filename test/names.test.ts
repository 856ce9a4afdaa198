import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const source = resolve(import.meta.dirname, '../src');
const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).filter(
  (name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'),
);

/** `export function name`, `export const name`, and so on, at the start of a line. */
const declaration =
  /^export (?:default )?(?:abstract |async )?(?:function\*?|const|let|class|interface|type|enum) (\w+)/gm;

/** `name: file, file` for each name that is exported by a declaration in more than one of the texts. */
function declaredTwice(texts: ReadonlyMap<string, string>): string[] {
  const places = new Map<string, string[]>();
  for (const [file, text] of texts) {
    for (const name of new Set([...text.matchAll(declaration)].map((match) => match[1]!))) {
      places.set(name, [...(places.get(name) ?? []), file]);
    }
  }
  return [...places]
    .filter(([, found]) => found.length > 1)
    .map(([name, found]) => `${name}: ${found.join(', ')}`);
}

it('finds a name that two files export, of whatever kind', () => {
  const texts = new Map([
    ['a.ts', 'export interface Lay {}\nexport function* laid() {}\nconst own = 1;\n'],
    ['b.ts', 'export type Lay = string;\nexport async function laid() {}\nconst own = 2;\n'],
  ]);
  expect(declaredTwice(texts)).toEqual(['Lay: a.ts, b.ts', 'laid: a.ts, b.ts']);
});

it('no exported name means two things', () => {
  const texts = new Map(files.map((file) => [file, readFileSync(join(source, file), 'utf8')]));
  expect(texts.size).toBeGreaterThan(400);
  expect(declaredTwice(texts)).toEqual([]);
});
