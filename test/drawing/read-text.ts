import type { Drawing } from '../../src/drawing/drawing.ts';
import { readDrawingBytes } from '../../src/drawing/read.ts';
import type { UnitsOptions } from '../../src/drawing/units.ts';

/** Reads a DXF that a test has as a string. `file` is its name in findings. */
export function readDrawingText(text: string, file: string, options: UnitsOptions = {}): Drawing {
  return readDrawingBytes(Buffer.from(text), file, options);
}
