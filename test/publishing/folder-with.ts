import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Makes a folder below a root with files in it, each holding its own name. */
export function folderWith(root: string, name: string, ...files: readonly string[]): string {
  const folder = join(root, name);
  mkdirSync(folder, { recursive: true });
  for (const file of files) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), file);
  }
  return folder;
}
