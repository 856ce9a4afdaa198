import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rename } from '../../src/publishing/rename.ts';

/** A disk that refuses so many times with a code, and how long it was waited for in all. */
function stubborn(times: number, code: string) {
  const disk = {
    tries: 0,
    waited: 0,
    move: (): void => {
      disk.tries++;
      if (disk.tries <= times) throw Object.assign(new Error(code), { code });
    },
    wait: (ms: number): void => void (disk.waited += ms),
  };
  return disk;
}

describe('rename', () => {
  it('moves a file over another', () => {
    const folder = mkdtempSync(join(tmpdir(), 'rename-'));
    writeFileSync(join(folder, 'new'), 'new');
    writeFileSync(join(folder, 'there'), 'old');
    rename(join(folder, 'new'), join(folder, 'there'));
    expect(readFileSync(join(folder, 'there'), 'utf8')).toBe('new');
    expect(existsSync(join(folder, 'new'))).toBe(false);
    rmSync(folder, { recursive: true });
  });

  it.each(['EPERM', 'EACCES', 'EBUSY'])('waits a moment for a program that lets go: %s', (code) => {
    const disk = stubborn(3, code);
    rename('a', 'b', disk);
    expect(disk.tries).toBe(4);
    expect(disk.waited).toBeGreaterThan(0);
  });

  it('gives up on a program that does not let go, within two seconds', () => {
    const disk = stubborn(Infinity, 'EBUSY');
    expect(() => rename('a', 'b', disk)).toThrow('EBUSY');
    expect(disk.waited).toBeGreaterThan(1000);
    expect(disk.waited).toBeLessThan(2000);
  });

  it('does not wait where waiting cannot help', () => {
    const disk = stubborn(1, 'ENOSPC');
    expect(() => rename('a', 'b', disk)).toThrow('ENOSPC');
    expect(disk).toMatchObject({ tries: 1, waited: 0 });
  });
});
