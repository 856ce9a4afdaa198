import type { Reporter, TestModule } from 'vitest/node';
import { neededBy } from './outside.ts';

/** Says at the end of a run in one line how many tests were skipped, and what they would have needed. */
export default class SkippedReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const names = modules.flatMap(({ children }) =>
      [...children.allTests('skipped')].map(({ fullName }) => fullName),
    );
    const line = skippedLine(names);
    if (line !== null) process.stdout.write(`${line}\n`);
  }
}

/** The line, from the full names of all tests that were skipped; null where none was for want of something. */
export function skippedLine(names: readonly string[]): string | null {
  const counts = new Map<string, number>();
  for (const what of names.flatMap((name) => neededBy(name) ?? []))
    counts.set(what, (counts.get(what) ?? 0) + 1);
  if (counts.size === 0) return null;
  const ranked = [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  const total = ranked.reduce((sum, [, count]) => sum + count, 0);
  const needs = ranked.map(
    ([what, count], i) => `${count}${i === 0 ? (count === 1 ? ' needs' : ' need') : ''} ${what}`,
  );
  return `${total} ${total === 1 ? 'test' : 'tests'} skipped: ${needs.join(', ')}`;
}
