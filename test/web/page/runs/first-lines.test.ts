import { expect, it } from 'vitest';
import type { RunComparison } from '../../../../src/web/api/runs.ts';
import { firstLines } from '../../../../src/web/page/runs/first-lines.ts';

function group(matter: RunComparison['groups'][number]['matter'], count: number) {
  const lines = Array.from({ length: count }, (_, i) => ({
    what: matter,
    where: '',
    words: String(i),
  }));
  return { matter, heading: matter, count, lines };
}

const counts = (groups: RunComparison['groups']): [string, number][] =>
  groups.map(({ matter, lines }) => [matter, lines.length]);

it('takes the first lines of every group in turn, no more than are asked for', () => {
  const groups = [group('machine', 2), group('places', 90), group('words', 30)];
  expect(counts(firstLines(groups, 12))).toEqual([
    ['machine', 2],
    ['places', 5],
    ['words', 5],
  ]);
  expect(counts(firstLines(groups, 2))).toEqual([
    ['machine', 1],
    ['places', 1],
  ]);
  expect(firstLines(groups, 500)).toEqual(groups);
  const [, places] = firstLines(groups, 12);
  expect(places!.lines.map(({ words }) => words)).toEqual(['0', '1', '2', '3', '4']);
  // How many there are in all is said still.
  expect(places!.count).toBe(90);
});
