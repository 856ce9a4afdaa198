import type { Entity } from '../../drawing/drawing.ts';
import { writeR12 } from '../../drawing/writing/write-r12.ts';
import { writeR2007 } from '../../drawing/writing/write-r2007.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { plus, times } from '../../geometry/paths/point.ts';
import { transformPath } from '../../geometry/paths/transform.ts';
import type { Part } from '../../handing/part.ts';
import { leftToBench } from '../../knife/cuttable.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Bite, Cut, CutKind } from '../../knife/cuts.ts';
import type { Lay } from '../../lay/lay.ts';
import { placementTransform } from '../../lay/lay.ts';

/**
 * The layers of the cutter's drawing, with the colour index in which each is shown. The first four are
 * cut.
 */
export const cutterLayers = [
  { name: 'CUT', colour: 1 },
  { name: 'CUT-INNER', colour: 6 },
  { name: 'NOTCH', colour: 3 },
  { name: 'PUNCH', colour: 4 },
  { name: 'MARK', colour: 8 },
  { name: 'LABEL', colour: 7 },
] as const;

export type CutterLayer = (typeof cutterLayers)[number]['name'];

export const layerOfCut: Readonly<Record<CutKind, CutterLayer>> = {
  notch: 'NOTCH',
  inner: 'CUT-INNER',
  punch: 'PUNCH',
  outline: 'CUT',
};

/**
 * The lay as a drawing that cutters read, in the version of DXF that the profile names: in mm, in the
 * lay's frame, arcs as bulges. Entities stand in cutting order, and contours begin where the knife
 * starts. Before the cuts of a part stand its label, at its roomiest point, and its marks, with the inner
 * contours and notches that are left to the bench. The roll is not drawn, because a machine might cut it.
 */
export function cutterDxf(
  lay: Lay,
  parts: readonly Part[],
  cutter: Cutter,
  order: readonly Bite[],
): string {
  const shown = shownByLabel(lay, parts, cutter);
  const begun = new Set<string>();
  const entities: Entity[] = [];
  for (const cut of wholeCuts(order)) {
    if (!begun.has(cut.label)) entities.push(...(shown.get(cut.label) ?? []));
    begun.add(cut.label);
    entities.push({ kind: 'path', layer: layerOfCut[cut.kind], line: 0, path: cut.path });
  }
  if (cutter.dxf === 'r12') return writeR12({ layers: cutterLayers, entities });
  return writeR2007(entities, cutterLayers);
}

/**
 * The cuts in their order. A contour that is cut in several bites stands once, whole, where it comes
 * free.
 */
function wholeCuts(order: readonly Bite[]): Cut[] {
  const cuts = order.flatMap((bite) => bite.cuts);
  const last = new Map(cuts.map(({ path }, i) => [path, i]));
  return cuts.filter(({ path }, i) => last.get(path) === i);
}

/** What is shown of each part and never cut, in its place, by the part's label. */
function shownByLabel(
  lay: Lay,
  parts: readonly Part[],
  cutter: Cutter,
): ReadonlyMap<string, Entity[]> {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return new Map(
    lay.placements.map((placement) => {
      const part = byLabel.get(placement.label);
      if (part === undefined) throw new RangeError(`no part ${placement.label} for its placement`);
      const place = (path: Path): Path => transformPath(placementTransform(placement), path);
      const notches =
        cutter.notches.cut === 'mark'
          ? part.notches.map(({ from, to }) => ({ path: polyline([from, to], false) }))
          : [];
      const marks = [...part.marks, ...leftToBench(part, cutter), ...notches].map(({ path }) =>
        place(path),
      );
      const inner = part.inner.map(({ path }) => place(path));
      return [
        part.label,
        [labelEntity(part.label, place(part.cut), inner), ...marks.map(markEntity)],
      ];
    }),
  );
}

function markEntity(path: Path): Entity {
  const [only, second] = path.vertices;
  return second === undefined
    ? { kind: 'point', layer: 'MARK', line: 0, at: only! }
    : { kind: 'path', layer: 'MARK', line: 0, path };
}

/** Height of texts, mm. Between these bounds it grows with the room for the text. */
const smallestText = 3;
const largestText = 12;

/**
 * The label of a part. A text stands with its lower left corner at `at`, and a letter is about 0.8 of its
 * height wide.
 */
function labelEntity(label: string, outline: Path, holes: readonly Path[]): Entity {
  const { point, radius } = roomiestPoint(outline, holes);
  const halfDiagonal = Math.hypot(0.8 * label.length, 1) / 2;
  const height = Math.min(largestText, Math.max(smallestText, radius / halfDiagonal));
  return {
    kind: 'text',
    layer: 'LABEL',
    line: 0,
    at: textCorner(label, height, point, radius),
    text: label,
    height,
    deg: 0,
  };
}

/**
 * The lower left corner of a text whose middle should be at `middle`. It is moved less far from there if
 * it would leave the part otherwise.
 */
function textCorner(label: string, height: number, middle: Point, radius: number): Point {
  const back = { x: -0.4 * label.length * height, y: -height / 2 };
  const share = Math.min(1, (0.9 * radius) / Math.hypot(back.x, back.y));
  return plus(middle, times(back, share));
}
