import { circle } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import type { Lay, Placement } from '../../src/lay/lay.ts';
import type { Drawing, Entity } from '../../src/drawing/drawing.ts';
import { readDrawingText } from '../drawing/read-text.ts';
import { writeR12 } from '../../src/drawing/writing/write-r12.ts';
import { prove } from '../../src/program/proof/prove.ts';
import { cutterLayers } from '../../src/program/writing/cutter-dxf.ts';
import {
  edgesOf,
  layOf,
  notchOn,
  part,
  point,
  rectangle,
  roundedRectangle,
} from '../knife/sample-parts.ts';
import type { RunFiles } from './run-folder.ts';
import { inFolder, runFiles } from './run-folder.ts';

/** No mirror image and no half turn of it fits it; straight sides, an arc and a corner that points inwards. */
const handed: Path = {
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: 600, y: 0, bulge: 0.2 },
    { x: 640, y: 250, bulge: 0 },
    { x: 420, y: 300, bulge: 0 },
    { x: 400, y: 420, bulge: 0 },
    { x: 0, y: 500, bulge: -0.05 },
  ],
};

/** Mat with all there is inside; pad that lies in its cutout; strip laid with a turn; flap in the second bite. */
export const parts = [
  part('mat.1.A1', handed, {
    inner: [
      { role: 'CUTOUT', path: roundedRectangle(200, 160, 30, 60, 120) },
      { role: 'HOLE', path: circle(point(480, 100), 12) },
      { role: 'HOLE', path: circle(point(480, 200), 2) },
    ],
    notches: [notchOn(handed, 0), notchOn(handed, 4)],
    marks: [{ role: 'PAD', path: rectangle(80, 80, 300, 100) }],
    edges: edgesOf(handed, (side) => side !== 2),
  }),
  part('pad.1.A1', rectangle(120, 90)),
  part('strip.1.A1', roundedRectangle(80, 700, 20), { pileDeg: 90, notches: [] }),
  part('flap.1.A1', handed, { notches: [notchOn(handed, 0)] }),
];

const placements: readonly Placement[] = [
  { label: 'mat.1.A1', x: 20, y: 40, rotation: 0 },
  { label: 'pad.1.A1', x: 20 + 100, y: 40 + 150, rotation: 0 },
  { label: 'strip.1.A1', x: 30, y: 700, rotation: 270 },
];

export function goodLay(cutter: Cutter): Lay {
  // Not whole on the first bed, so that the two bites share some of the roll.
  const flap = { label: 'flap.1.A1', x: cutter.bed.length - 250, y: 40, rotation: 0 };
  return layOf(parts, [...placements, flap], { biteLength: cutter.bed.length });
}

export function goodRun(cutter: Cutter): RunFiles {
  return runFiles(parts, goodLay(cutter), cutter);
}

/** The rules of what the proof finds in these files. */
export function rulesFound(files: RunFiles): string[] {
  return inFolder(files, prove).map(({ rule }) => rule);
}

/** The files with one of them changed. */
export function changed(files: RunFiles, name: string, change: (text: string) => string): RunFiles {
  const before = files[name]!;
  const after = change(before);
  if (after === before) throw new Error(`the fault leaves ${name} as it was`);
  return { ...files, [name]: after };
}

/** The text of a program with other lines for each of those at its head. */
export function inHead(text: string, change: (line: string) => string[]): string {
  const lines = text.split('\n');
  const end = lines.findIndex((line) => !line.startsWith('('));
  return [...lines.slice(0, end).flatMap(change), ...lines.slice(end)].join('\n');
}

/** Changes the drawing's entities, in their order, and writes it anew. */
export function drawingChanged(
  files: RunFiles,
  change: (entities: Entity[]) => Entity[],
): RunFiles {
  return changed(files, 'loop.dxf', (text) => {
    const drawing: Drawing = readDrawingText(text, 'loop.dxf', { setUnits: 'mm' });
    const entities = change([...drawing.entities]);
    const names = new Set<string>(
      [...cutterLayers, ...entities.map(({ layer }) => ({ name: layer }))].map(({ name }) => name),
    );
    const colours = new Map<string, number>(cutterLayers.map(({ name, colour }) => [name, colour]));
    const layers = [...names].map((name) => ({ name, colour: colours.get(name) ?? 7 }));
    return writeR12({ layers, entities });
  });
}
