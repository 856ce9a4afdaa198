import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { foundations, stages } from '../src/order.ts';

const source = resolve(import.meta.dirname, '../src');

/** Where a file stands in the flow of data; what stands after the stages may import any of them. */
function rankOf(file: string): number {
  const [top] = relative(source, file).split('/');
  if (foundations.includes(top as never)) return -1;
  const stage = stages.indexOf(top as never);
  return stage === -1 ? stages.length : stage;
}

function importsOf(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  const found = [...text.matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)];
  return found.map((match) => resolve(dirname(file), match[1]!));
}

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
  .map((name) => join(source, name));

describe('the order of the stages', () => {
  it('finds the stages’ files', () => {
    expect(new Set(files.map(rankOf)).size).toBeGreaterThan(stages.length);
  });

  it.each(files.map((file) => [relative(source, file), file]))(
    '%s imports nothing downstream',
    (_, file) => {
      const downstream = importsOf(file!).filter((target) => rankOf(target) > rankOf(file!));
      expect(downstream.map((target) => relative(source, target))).toEqual([]);
    },
  );
});
