/** The set wren as it may come from a customer: nothing says what happens to any edge. */
import type { Files } from '../support/wren.ts';
import { drawingFile, drawingText, setFile, wren, wrenBlocks } from '../support/wren.ts';

const traces: ReadonlySet<string> = new Set(['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW']);

export const bareWren: Files = {
  ...wren,
  [setFile]: String(wren[setFile])
    .replace(/, (edge|covered): [^,}]+/g, (said) => (said.endsWith(' ') ? ' ' : ''))
    .replace(/seams:\n.*\n/, ''),
  [drawingFile]: drawingText(
    wrenBlocks().map(({ name, entities }) => ({
      name,
      entities: entities.filter(({ layer }) => !traces.has(layer)),
    })),
  ),
};
