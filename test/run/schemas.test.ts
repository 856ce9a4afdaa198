import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from '../../src/run/schemas.ts';

// Not a test of what the schemas say: only that the files were written anew after a change of the code.
describe('shared/schema', () => {
  it.each([...jsonSchemas()])('%s is what `npm run schemas` writes', (name, text) => {
    expect(readFileSync(join(import.meta.dirname, '../../shared/schema', name), 'utf8')).toBe(text);
  });
});
