import { existsSync, readFileSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import { publishFile } from '../publishing/publish-file.ts';
import type { Draft } from './draft.ts';

/** The folder of a set in which drawings are kept as they came. */
const receivedFolder = 'received';

/**
 * Keeps the drawing of a set as another program wrote it, before the desk writes its own in that place.
 * Throws a Refusal where that fails.
 */
export function keepReceived({ folder, said, texts }: Draft): void {
  const text = said.drawing === undefined ? undefined : texts.get(said.drawing);
  if (text === undefined) return;
  const bytes = Buffer.from(text, 'latin1');
  const name = basename(said.drawing!);
  const ending = extname(name);
  for (let n = 1; ; n++) {
    const file = n === 1 ? name : `${basename(name, ending)}-${n}${ending}`;
    const place = join(folder, receivedFolder, file);
    if (!existsSync(place)) return publishFile(place, bytes);
    if (readFileSync(place).equals(bytes)) return;
  }
}
