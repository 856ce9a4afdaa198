import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { z } from 'zod';
import type { Place } from './findings.ts';
import { refuse } from './findings.ts';
import type { YamlFile } from './yaml.ts';
import { readYaml } from './yaml.ts';

/**
 * Reads `<folder>/<name>.yaml` and checks it against a schema. `what` says what kind of thing the file
 * describes. `namedAt` is the place at which a person wrote the name. Throws a Refusal; if there is no
 * such file, the Refusal points to `namedAt` and lists the names that there are.
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

/**
 * The names of the YAML files in a folder, sorted and without their ending. Empty if there is no such
 * folder.
 */
export function namesIn(folder: string): string[] {
  return filesIn(folder)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => file.slice(0, -'.yaml'.length))
    .sort();
}

function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  try {
    return readdirSync(folder);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return refuse('file', `this folder cannot be read (${code}).`, 'Check its name and rights.', {
      file: folder,
    });
  }
}
