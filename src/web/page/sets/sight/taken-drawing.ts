import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../../base/findings.ts';
import { addressOf } from '../../address.ts';

/** A drawing that somebody has dropped or chosen; it is held in this page alone. */
export interface TakenDrawing {
  readonly name: string;
  readonly bytes: ArrayBuffer;
}

/** The server takes no larger body, and what is said of the drawing goes along. */
const mostBytes = 63_000_000;

let taken: TakenDrawing | null = null;
const heeded = 'drawing-taken';

/** The drawing that was taken last; null: none since the page was loaded. */
export function useTakenDrawing(): TakenDrawing | null {
  const [drawing, setDrawing] = useState(taken);
  useEffect(() => {
    const heed = (): void => setDrawing(taken);
    addEventListener(heeded, heed);
    return () => removeEventListener(heeded, heed);
  }, []);
  return drawing;
}

/**
 * Takes a drawing and goes to the view of it. What is given in place of one drawing is not taken, and is
 * told instead.
 */
export async function takeDrawing(files: readonly File[]): Promise<readonly Finding[]> {
  const [file, ...more] = files;
  if (file === undefined) return [];
  if (more.length > 0) {
    return [told(`these are ${files.length} files.`, 'Take one drawing at a time.')];
  }
  if (file.size > mostBytes) {
    const size = Math.ceil(file.size / 1e6);
    return [
      told(
        `the file ${file.name} has ${size} MB, and a drawing may have ${mostBytes / 1e6}.`,
        'Export the pattern pieces alone, without what is only shown; or use "pileway import", which takes more.',
      ),
    ];
  }
  try {
    const bytes = await file.arrayBuffer();
    if (taken === null || taken.name !== file.name || !isSame(taken.bytes, bytes)) {
      taken = { name: file.name, bytes };
    }
  } catch {
    return [
      told(
        `the file ${file.name} cannot be read; it may be a folder, or gone.`,
        'Take the drawing itself.',
      ),
    ];
  }
  dispatchEvent(new Event(heeded));
  location.hash = addressOf('drawing');
  return [];
}

/** Lets go of the drawing, once there is a set of it. */
export function letGoOfDrawing(): void {
  taken = null;
}

/** The same drawing taken again keeps all that was said of it. */
function isSame(one: ArrayBuffer, other: ArrayBuffer): boolean {
  if (one.byteLength !== other.byteLength) return false;
  const [a, b] = [new Uint8Array(one), new Uint8Array(other)];
  return a.every((byte, i) => byte === b[i]);
}

function told(message: string, todo: string): Finding {
  return { severity: 'error', rule: 'drawing', message, todo, where: {} };
}
