import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readBinding } from '../../../src/pattern/shop/binding.ts';

const shared = join(import.meta.dirname, '../../../shared');
const names = readdirSync(join(shared, 'bindings')).map((file) => file.replace('.yaml', ''));

describe('shared/bindings', () => {
  it.each(names)('%s can be read, and says what it must be able to do', (name) => {
    const { kind, width, insideRadius, joining } = readBinding(shared, name, {});
    // [CP] A tape folded over an edge goes round no inside curve tighter than its own width.
    expect(insideRadius).toBeGreaterThanOrEqual(width);
    expect(kind).toBe(name.startsWith('overlock') ? 'overlock' : 'tape');
    // [S] facts.md, section 4: 250 mm to join the ends of a tape.
    if (kind === 'tape') expect(joining).toBe(250);
  });

  it('a name that is not there is told where it stands, with those there are', () => {
    const read = () => readBinding(shared, 'none', { file: 'set.yaml', line: 6 });
    expect(read).toThrow(/set\.yaml:6.*no binding "none".*There are: binding-22/);
  });
});
