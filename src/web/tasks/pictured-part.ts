import { rounded } from '../../base/numbers.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { boxOfPath, pathLength } from '../../geometry/paths/path.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import type { Edge, Part } from '../../handing/part.ts';
import { allowedRotations } from '../../lay/lay.ts';
import { pathData } from '../../papers/svg/svg.ts';
import type { Turns } from '../../pattern/words.ts';
import type { PicturedPart } from '../api/pictured.ts';

type Geometry = Pick<PicturedPart, 'd' | 'ring' | 'box' | 'marks' | 'at' | 'edges'>;

/** How far the corners that tell what lies under a pointer may be off, mm. */
const coarse = 1;

/**
 * Parts of further sets share the contours of the first set, so each contour is drawn once for all of
 * them.
 */
const drawnOnce = new WeakMap<Path, Geometry>();

/**
 * A part as pictures of a roll show it. `next` and `neighbours` are what is said of it in words.
 */
export function picturedPart(
  part: Part,
  turns: Turns,
  { next, neighbours }: Pick<PicturedPart, 'next' | 'neighbours'>,
): PicturedPart {
  const { label, name, piece, kind, side, hand, order, set, material, colour, pileDeg } = part;
  return {
    label,
    name,
    piece,
    kind,
    side,
    hand,
    order,
    set,
    material,
    colour: colour ?? null,
    pileDeg,
    turns: allowedRotations(part, turns),
    next,
    neighbours,
    ...geometryOf(part),
  };
}

function geometryOf(part: Part): Geometry {
  const known = drawnOnce.get(part.cut);
  if (known !== undefined) return known;
  const { minX, minY, maxX, maxY } = boxOfPath(part.cut);
  const { point } = roomiestPoint(
    part.cut,
    part.inner.map(({ path }) => path),
  );
  const geometry: Geometry = {
    d: [part.cut, ...part.inner.map(({ path }) => path)].map(pathData).join(''),
    ring: flatten(part.cut, coarse).flatMap(({ x, y }) => [rounded(x, 1), rounded(y, 1)]),
    box: [minX, minY, maxX, maxY],
    marks: part.marks.map(({ path }) => pathData(path)).join(''),
    at: [rounded(point.x, 1), rounded(point.y, 1)],
    edges: part.edges.map((edge) => ({
      kind: edge.kind,
      name: edge.name,
      onShow: edge.onShow,
      length: rounded(pathLength(edge.path), 1),
      d: pathData(edge.path),
      words: edgeWords(edge),
    })),
  };
  drawnOnce.set(part.cut, geometry);
  return geometry;
}

const done: Readonly<Record<Edge['kind'], string>> = {
  bound: 'bound with tape',
  seam: 'sewn to its neighbour',
  tuck: 'tucked',
  turned: 'folded back onto its own back',
  raw: 'cut and left so',
};

function edgeWords({ kind, hiddenBy, onShow }: Edge): string {
  const hidden =
    hiddenBy === undefined ? '' : kind === 'raw' ? `, under ${hiddenBy}` : ` under ${hiddenBy}`;
  return `${done[kind]}${hidden}${onShow ? ', on show' : ''}`;
}
