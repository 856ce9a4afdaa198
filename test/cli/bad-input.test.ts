import { chmodSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inFolder, wren } from '../support/wren.ts';
import type { Case } from './bad-input.ts';
import { cases, cutRun, rightsCases } from './bad-input.ts';
import { commandIn } from './command-in.ts';
import type { Built, Outcome } from './pileway.ts';
import { build, fileRights, pileway } from './pileway.ts';

describe.each(cases)('what is wrong with %s is said in words', (_, these) => {
  it.each(these)('$what', ({ files = wren, args = cutRun, ...one }) =>
    inFolder(files, (root) => check(root, one, () => commandIn(root, args))),
  );
});

describe.skipIf(fileRights.missing)(`what must not be written to is said${fileRights.note}`, () => {
  let built: Built;
  beforeAll(() => {
    built = build();
  });
  afterAll(() => built.remove());

  it.each(rightsCases)('$what', ({ files, locked, args = cutRun, ...one }) =>
    inFolder(files, async (root) => {
      chmodSync(join(root, locked), 0o555);
      await check(root, one, () => pileway(built.main, root, args, { privileged: false }));
      chmodSync(join(root, locked), 0o755);
    }),
  );
});

/** The message, and that nothing was written nor is left over. */
async function check(
  root: string,
  { says, lines, code = 2 }: Pick<Case, 'says' | 'lines' | 'code'>,
  run: () => Promise<Outcome>,
): Promise<void> {
  const before = contentsOf(root);
  const outcome = await run();
  expect(says).not.toHaveLength(0);
  for (const words of says) expect(outcome.stderr).toContain(words);
  if (lines !== undefined) expect(outcome.stderr.trim().split('\n')).toHaveLength(lines);
  expect(outcome.code).toBe(code);
  expect(outcome.stdout).toBe('');
  expect(outcome.stderr).not.toMatch(/fault of the program|^\s+at /m);
  expect(contentsOf(root)).toEqual(before);
}

/** Every file below a folder with what is in it, folders with nothing. */
function contentsOf(root: string): [name: string, content: string][] {
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .sort()
    .map((name) => {
      const path = join(root, name);
      return [name, statSync(path).isDirectory() ? '' : readFileSync(path, 'latin1')];
    });
}
