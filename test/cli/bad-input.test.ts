import { chmodSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { ExpectStatic } from 'vitest';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { inFolder, wren } from '../support/wren.ts';
import type { Case } from './bad-input.ts';
import { cases, cutRun, rightsCases } from './bad-input.ts';
import type { Built } from './pileway.ts';
import { build, fileRights, pileway } from './pileway.ts';

let built: Built;

beforeAll(() => {
  built = build();
});

afterAll(() => built.remove());

describe.each(cases)('what is wrong with %s is said in words', (_, these) => {
  it.concurrent.for(these)('$what', (one, { expect }) => check(one, expect));
});

describe.skipIf(fileRights.missing)(`what must not be written to is said${fileRights.note}`, () => {
  it.concurrent.for(rightsCases)('$what', (one, { expect }) => check(one, expect));
});

/** The message, and that nothing was written nor is left over. */
async function check(one: Case, expect: ExpectStatic): Promise<void> {
  const { files = wren, args = cutRun, locked, says, lines, code = 2 } = one;
  await inFolder(files, async (root) => {
    const before = contentsOf(root);
    if (locked !== undefined) chmodSync(join(root, locked), 0o555);
    const privileged = locked === undefined;
    const outcome = await pileway(built.main, root, args, { privileged });
    if (locked !== undefined) chmodSync(join(root, locked), 0o755);
    for (const words of says) expect(outcome.stderr).toContain(words);
    if (lines !== undefined) expect(outcome.stderr.trim().split('\n')).toHaveLength(lines);
    expect(outcome.code).toBe(code);
    expect(outcome.stdout).toBe('');
    expect(outcome.stderr).not.toMatch(/fault of the program|^\s+at /m);
    expect(contentsOf(root)).toEqual(before);
  });
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
