import { cpSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { cut } from '../../src/jobs/cut.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

it('a wrong --out with --force costs no other run', async () => {
  const { root, close } = openWorkshop(wren);
  try {
    const sharedFolder = join(root, 'shared');
    const request = { runFile: join(root, runFile), sharedFolder, out: join(root, 'out/week') };
    await cut({ ...request, force: false });
    const record = readFileSync(join(request.out, 'run.json'), 'utf8');
    const next = join(root, 'patterns/next-week.yaml');
    cpSync(request.runFile, next);
    await expect(cut({ ...request, runFile: next, force: true })).rejects.toThrow(
      /holds another run: "week"/,
    );
    await expect(cut({ ...request, runFile: next, force: true })).rejects.toThrow(Refusal);
    expect(readFileSync(join(request.out, 'run.json'), 'utf8')).toBe(record);
    await cut({ ...request, force: true });
    expect(readFileSync(join(request.out, 'run.json'), 'utf8')).toBe(record);
  } finally {
    close();
  }
});
