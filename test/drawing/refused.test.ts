import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { readDrawing } from '../../src/drawing/read.ts';

/** A file that must be refused is a case named after its symptom; expected.json says how. */
const cases = join(import.meta.dirname, '../data/refused-drawings');
const expected = JSON.parse(readFileSync(join(cases, 'expected.json'), 'utf8')) as Record<
  string,
  { rule: string; line?: number; naming: string }
>;

function refusalOf(file: string): Refusal {
  try {
    readDrawing(file);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error(`${file} was read`);
}

describe('files that are refused', () => {
  it('are all expected', () => {
    const drawings = readdirSync(cases).filter((name) => name.endsWith('.dxf'));
    const files = drawings.map((name) => name.replace('.dxf', ''));
    expect(files.sort()).toEqual(Object.keys(expected).sort());
  });

  it.each(Object.entries(expected))('%s', (name, { rule, line, naming }) => {
    const file = join(cases, `${name}.dxf`);
    const [finding, ...more] = refusalOf(file).findings;
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ severity: 'error', rule, where: { file } });
    expect(finding!.where.line).toBe(line);
    expect(finding!.message).toContain(naming);
    expect(finding!.todo).not.toBe('');
  });

  it('may be missing, or a folder', () => {
    const folder = mkdtempSync(join(tmpdir(), 'drawing-'));
    expect(refusalOf(join(folder, 'none.dxf')).message).toContain('there is no drawing here');
    expect(refusalOf(folder).message).toContain('folder');
    rmSync(folder, { recursive: true });
  });
});
