import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Set up once for a run of tests: a folder for what test files share, which run in processes of their own. Its path is
 * PILEWAY_SHARED in the environment. Gives what removes it.
 */
export default function sharedFolder(): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'pileway-tests-'));
  process.env['PILEWAY_SHARED'] = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}
