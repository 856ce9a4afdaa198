/** Sets that are made of drawings, in a workshop of their own. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../src/base/findings.ts';
import { checkSet } from '../../src/jobs/check.ts';
import type { Imported, ImportRequest } from '../../src/jobs/import.ts';
import { importSet } from '../../src/jobs/import.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import type { Tag } from '../drawing/dxf.ts';
import { dxf, inMm, lwpolyline, onLayer } from '../drawing/dxf.ts';
import type { Files } from './wren.ts';
import { inFolder, wren } from './wren.ts';

/** The set `customer` made of a drawing, in the workshop of the wren. */
export async function imported<T>(
  words: string,
  use: (made: Imported, root: string) => T,
  more: Partial<ImportRequest> = {},
  files: Files = {},
): Promise<T> {
  return inFolder({ ...wren, ...files }, (root) => {
    writeFileSync(join(root, 'customer.dxf'), words);
    const made = importSet({
      file: join(root, 'customer.dxf'),
      folder: join(root, 'patterns/customer'),
      sharedFolder: join(root, 'shared'),
      units: undefined,
      drawn: undefined,
      gap: 0.05,
      ...more,
    });
    return use(made, root);
  });
}

/** What `check` finds on the set that was made of these entities. */
export async function checkedAfter(
  entities: readonly (readonly Tag[])[],
  more: Partial<ImportRequest> = {},
  files: Files = {},
): Promise<{ made: Imported; findings: readonly Finding[]; patterns: PatternSet }> {
  return imported(
    dxf({ header: inMm, entities }),
    (made, root) => ({
      made,
      ...checkSet(join(root, 'patterns/customer'), join(root, 'shared')),
    }),
    more,
    files,
  );
}

/** A rectangle on a layer, from its lower left corner. */
export function rectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  layer: string,
): Tag[] {
  const corners = [
    [x, y, 0],
    [x + width, y, 0],
    [x + width, y + height, 0],
    [x, y + height, 0],
  ] as const;
  return onLayer(lwpolyline(corners, true), layer);
}
