import { posix, win32 } from 'node:path';
import { describe, expect, it } from 'vitest';
import { nameFrom } from '../../src/run/job.ts';

describe('the names of files in a record', () => {
  it('are the same on every system', () => {
    expect(nameFrom('/shop', '/shop/patterns/wren/set.yaml', posix)).toBe('patterns/wren/set.yaml');
    expect(nameFrom('C:\\shop', 'C:\\shop\\patterns\\wren\\set.yaml', win32)).toBe(
      'patterns/wren/set.yaml',
    );
    expect(nameFrom('C:\\shop\\patterns', 'C:\\shop\\shared\\a.yaml', win32)).toBe(
      '../shared/a.yaml',
    );
  });
});
