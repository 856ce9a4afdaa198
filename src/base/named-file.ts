import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { z } from 'zod';
import type { Place } from './findings.ts';
import { refuse } from './findings.ts';
import type { YamlFile } from './yaml.ts';
import { readYaml } from './yaml.ts';

/**
 * Reads `<folder>/<name>.yaml` against a schema. Throws a Refusal; where there is no such file it says
 * where the name stands (`namedAt`) and which names there are.
 */
export function readNamed<T>(
  folder: string,
  name: string,
  schema: z.ZodType<T>,
  what: string,
  namedAt: Place,
): YamlFile<T> {
  const file = join(folder, `${name}.yaml`);
  if (!existsSync(file)) {
    const known = namesIn(folder);
    refuse(
      'unknown-name',
      `there is no ${what} "${name}" (${file}).`,
      known.length > 0
        ? `There are: ${known.join(', ')}.`
        : `${folder} has none at all; the shop’s files may lie in another folder (--shared).`,
      namedAt,
    );
  }
  return readYaml(file, schema, what);
}

/** What the YAML files of a folder are called, without their ending; none where there is no folder. */
export function namesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => file.slice(0, -'.yaml'.length))
    .sort();
}
