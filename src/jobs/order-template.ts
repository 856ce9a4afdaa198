import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { refuse } from '../base/findings.ts';
import { readYaml } from '../base/yaml.ts';
import { setSchema } from '../pattern/set-file.ts';
import { checkFileTarget, publishFile } from '../publishing/publish-file.ts';
import { orderHeadings } from '../run/orders-csv.ts';

/**
 * Writes a CSV with the headings of all columns that orders can have, and no order; with a set, which is
 * a folder beside it, also a column for each of its options. Gives the headings. Throws a Refusal, also
 * where there is such a file.
 */
export function writeOrderTemplate(
  file: string,
  set: string | undefined,
  separator: string,
): string[] {
  checkFileTarget(file, '.csv', true);
  if (existsSync(file)) {
    const todo = 'Name another file: the orders in this one would be gone.';
    refuse('target', 'this file exists already.', todo, { file });
  }
  const headings = orderHeadings(set === undefined ? [] : optionsOfSet(join(dirname(file), set)));
  publishFile(file, `${headings.join(separator)}\n`);
  return headings;
}

function optionsOfSet(folder: string): string[] {
  const { value } = readYaml(join(folder, 'set.yaml'), setSchema, 'set file');
  return Object.keys(value.options ?? {});
}
