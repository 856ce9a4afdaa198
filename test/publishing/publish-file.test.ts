import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { checkFileTarget, publishFile } from '../../src/publishing/publish-file.ts';

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'publish-file-'));
});

afterEach(() => {
  rmSync(root, { recursive: true });
});

describe('checkFileTarget', () => {
  it('takes a name that is free, and one that is taken with force', () => {
    checkFileTarget(join(root, 'deep/down/a.svg'), '.svg', false);
    writeFileSync(join(root, 'a.svg'), 'old');
    checkFileTarget(join(root, 'a.svg'), '.svg', true);
    expect(readFileSync(join(root, 'a.svg'), 'utf8')).toBe('old');
  });

  it('refuses a name that is taken without force, a folder, and another kind of file', () => {
    writeFileSync(join(root, 'a.svg'), 'old');
    mkdirSync(join(root, 'b.svg'));
    const refused = (name: string, force: boolean): unknown => {
      try {
        return checkFileTarget(join(root, name), '.svg', force);
      } catch (error) {
        expect(error).toBeInstanceOf(Refusal);
        return (error as Error).message;
      }
    };
    expect(refused('a.svg', false)).toMatch(/exists already.*--force/);
    expect(refused('b.svg', true)).toMatch(/is a folder/);
    expect(refused('set.yaml', true)).toMatch(/does not end in \.svg/);
  });
});

describe('publishFile', () => {
  it('writes the text, over what was there, and leaves nothing beside it', () => {
    const file = join(root, 'deep/a.svg');
    publishFile(file, 'first');
    publishFile(file, 'second');
    expect(readFileSync(file, 'utf8')).toBe('second');
    expect(readdirSync(join(root, 'deep'))).toEqual(['a.svg']);
  });

  it('says in words why it cannot, and keeps what was there', () => {
    writeFileSync(join(root, 'a'), 'a file');
    expect(() => publishFile(join(root, 'a/b.svg'), 'text')).toThrow(Refusal);
    mkdirSync(join(root, 'c.svg/full'), { recursive: true });
    expect(() => publishFile(join(root, 'c.svg'), 'text')).toThrow(Refusal);
    expect(readdirSync(root).sort()).toEqual(['a', 'c.svg']);
    expect(readFileSync(join(root, 'a'), 'utf8')).toBe('a file');
  });
});
