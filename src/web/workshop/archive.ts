import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { changedYaml } from '../../base/yaml-edit/edit.ts';
import type { Values } from '../../base/yaml-edit/editing.ts';
import { blockText } from '../../base/yaml-edit/write.ts';
import { readYaml } from '../../base/yaml.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { Workshop } from './workshop.ts';
import { placeIn } from './workshop.ts';

/** The schema of shared/archive.yaml: runs that nobody wants to see among the others. Their files stay. */
const archiveSchema = z.strictObject({
  runs: z.array(z.string()).describe('the names of runs that are put away'),
});

/** The names of the runs that are put away. Throws a Refusal where the file cannot be read. */
export function archivedRuns({ shared }: Workshop): string[] {
  const file = join(shared, 'archive.yaml');
  return existsSync(file) ? readYaml(file, archiveSchema, 'list of runs put away').value.runs : [];
}

/** Puts a run away, or takes it back. Nothing else of it changes. Throws a Refusal where the file cannot be read. */
export function putAway(shop: Workshop, run: string, away: boolean): void {
  placeIn(shop.patterns, run);
  const file = join(shop.shared, 'archive.yaml');
  const others = archivedRuns(shop).filter((name) => name !== run);
  const runs = away ? [...others, run] : others;
  const text = existsSync(file)
    ? changedYaml(readFileSync(file, 'utf8'), { runs }, saysOf)
    : blockText({ runs }, 'Runs that are put away. Their files stay where they are.');
  publishFile(file, text);
}

function saysOf(plain: unknown): Values | null {
  const read = archiveSchema.safeParse(plain);
  return read.success ? { ...read.data } : null;
}
