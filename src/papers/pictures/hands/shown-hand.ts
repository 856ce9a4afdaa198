import { areaOf } from '../../../geometry/paths/area.ts';
import { placeInPath } from '../../../geometry/relations/contains.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath } from '../../../geometry/paths/transform.ts';
import type { Change } from '../../../handing/redrawing/changes.ts';
import { distanceToPath } from '../../../geometry/measuring/nearest.ts';
import { claimEdges, tracedKinds, tracesOf, traceTolerance } from '../../../pattern/edges.ts';
import type { EdgeKind } from '../../../pattern/words.ts';
import type { Piece } from '../../../pattern/piece.ts';
import type { Feature } from '../../../pattern/feature.ts';

/** One outline as a page shows it, with what is drawn on it and needs no separate mention. */
export interface ShownPiece {
  readonly name: string;
  readonly outline: Path;
  readonly hasMoved: boolean;
  readonly isAlone: boolean;
  /** Contours through which what lies below is seen. */
  readonly holes: readonly Path[];
  readonly lines: readonly Path[];
  /** What happens to each stretch of its outline. Empty: nobody asked, or the traces do not fit. */
  readonly edges: readonly ShownEdge[];
}

interface ShownEdge {
  readonly kind: EdgeKind;
  readonly path: Path;
}

/** A feature that has moved on a piece that stays, or that exists for one hand only. */
export interface Marked {
  readonly feature: Feature;
  readonly path: Path;
  readonly isAlone: boolean;
}

/** One hand as a page shows it. The largest pieces come first, because small ones lie on them. */
export interface ShownHand {
  readonly pieces: readonly ShownPiece[];
  readonly marked: readonly Marked[];
}

type When = 'before' | 'after';

/** Whether a thing exists for one hand only. */
export function isAlone({ before, after }: Change): boolean {
  return (before.length === 0) !== (after.length === 0);
}

/** The pieces that have moved, come or gone. */
export function movedPieces(changes: readonly Change[]): ReadonlySet<Piece> {
  return new Set(
    changes.filter(({ feature, moved }) => feature === null && moved).map(({ piece }) => piece),
  );
}

/** Whether a feature must be shown by itself, because its piece does not explain where it has gone. */
export function isMarked(change: Change, moved: ReadonlySet<Piece>): boolean {
  if (change.feature === null || !change.moved) return false;
  return isAlone(change) || !moved.has(change.piece);
}

/**
 * What a page shows of one hand. `onPage` takes points from the vehicle's frame to the page. `withEdges`: whether
 * the kinds of edges are wanted.
 */
export function shownHand(
  changes: readonly Change[],
  when: When,
  onPage: Transform,
  withEdges = false,
): ShownHand {
  const moved = movedPieces(changes);
  const place = (path: Path): Path => transformPath(onPage, path);
  const pieces = changes.flatMap((change) => {
    if (change.feature !== null) return [];
    const own = changes.filter((one) => one.piece === change.piece && !isMarked(one, moved));
    return change[when].map((path) => ({
      ...shownPiece(change, place(path), own, when, place),
      edges: withEdges ? edgesOf(change.piece, path, changes, when, place) : [],
    }));
  });
  const marked = changes.flatMap((change) => {
    const { feature } = change;
    if (feature === null || !isMarked(change, moved)) return [];
    return change[when].map((path) => ({ feature, path: place(path), isAlone: isAlone(change) }));
  });
  return { pieces: pieces.toSorted((a, b) => areaOf(b.outline) - areaOf(a.outline)), marked };
}

function shownPiece(
  change: Change,
  outline: Path,
  own: readonly Change[],
  when: When,
  place: (path: Path) => Path,
): Omit<ShownPiece, 'edges'> {
  const on = own.flatMap((one) => {
    const { feature } = one;
    if (feature === null || isTrace(feature)) return [];
    // Each half of a pair only has the features that lie on it.
    const isOnly = change[when].length === 1;
    const paths = one[when].map(place).filter((path) => isOnly || liesOn(path, outline));
    return paths.map((path) => ({ path, isHole: isHole(feature) }));
  });
  return {
    name: change.piece.name,
    outline,
    hasMoved: change.moved,
    isAlone: isAlone(change),
    holes: on.filter((one) => one.isHole).map(({ path }) => path),
    lines: on.filter((one) => !one.isHole).map(({ path }) => path),
  };
}

/** The stretches of an outline (in the vehicle's frame) by what happens to them; what no line traces as the set file says. */
function edgesOf(
  piece: Piece,
  outline: Path,
  changes: readonly Change[],
  when: When,
  place: (path: Path) => Path,
): ShownEdge[] {
  const traces = changes.flatMap(({ piece: of, feature, [when]: paths }) =>
    of !== piece || feature === null || !isTrace(feature)
      ? []
      : paths.filter((path) => runsAlong(path, outline)).map((path) => ({ ...feature, path })),
  );
  const { stretches } = claimEdges(
    outline,
    tracesOf(traces),
    piece.entry.edge ?? null,
    piece.where,
  );
  return stretches.map(({ kind, path }) => ({ kind, path: place(path) }));
}

function runsAlong({ vertices }: Path, outline: Path): boolean {
  return vertices.every((vertex) => distanceToPath(outline, vertex) <= traceTolerance);
}

/**
 * Whether a feature is a line along the outline. It is seen as the outline itself, as long as both move
 * together.
 */
export function isTrace({ role }: Feature): boolean {
  return tracedKinds[role] !== undefined;
}

/** Whether a feature is a contour that is cut out. A drill mark is not. */
export function isHole({ role, path }: Feature): boolean {
  return path.closed && (role === 'CUTOUT' || role === 'HOLE');
}

function liesOn({ vertices }: Path, outline: Path): boolean {
  return placeInPath(outline, vertices[0]!) !== 'outside';
}
