import type { LengthWords } from '../../base/wording.ts';
import { boxOfPath, middleOfPath, polyline } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { centreOf, heightOf, widthOf } from '../../geometry/paths/box.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { pathCrossings } from '../../geometry/relations/crossings.ts';
import { letterOf } from '../../handing/bench-facts.ts';
import type { Mark, Part } from '../../handing/part.ts';
import { partTitle } from '../../handing/part-title.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import type { PatternSet } from '../../pattern/set.ts';

/** One place where something is cut or pierced in the vehicle. */
interface SitePlace {
  /** The letter that stands at it in the plan. */
  readonly letter: string;
  /** In the vehicle's frame, mm. */
  readonly at: Point;
  readonly mark: Mark;
  /** Its distances from two edges of the part as it leaves the shop, in words. */
  readonly words: string;
}

/** What is done in the vehicle on a part, at all marks of one name. */
export interface SiteJob {
  readonly part: Part;
  /** The number and the title of the part. */
  readonly where: string;
  readonly what: string;
  /** How large, in words; empty: nobody said. */
  readonly size: string;
  readonly places: readonly SitePlace[];
}

/** What the set file says to be done in the vehicle, in the order of the steps, each place with its letter. */
export function siteJobs(
  steps: readonly { readonly number: number; readonly parts: readonly Part[] }[],
  content: PatternSet['content'],
  lengths: LengthWords,
): SiteJob[] {
  let count = 0;
  return steps.flatMap(({ number, parts }) =>
    parts.flatMap((part) =>
      Object.entries(content.pieces[part.piece]?.onSite ?? {}).flatMap(([name, job]): SiteJob[] => {
        const marks = part.marks.filter((mark) => mark.name === name);
        if (marks.length === 0) return [];
        return [
          {
            part,
            where: `${number} ${partTitle(part, content)}`,
            what: job.do,
            size: job.size === undefined ? '' : lengths.mm(job.size),
            places: marks.map((mark) => {
              const at = middleOfMark(mark);
              const wraps = content.pieces[part.piece]?.board?.wraps;
              const words = placeWords(part, at, wraps, lengths);
              return { letter: letterOf(count++).toLowerCase(), at, mark, words };
            }),
          },
        ];
      }),
    ),
  );
}

function middleOfMark({ path }: Mark): Point {
  if (path.vertices.length === 1) return path.vertices[0]!;
  return path.closed ? centreOf(boxOfPath(path)) : middleOfPath(path);
}

/**
 * Where a point of a part is, by its distances from an edge left or right of it and from one in front or behind, measured
 * straight across and straight along. An edge is taken where it can be touched before the part is fitted: what is to be
 * tucked still stands out, so an edge that stays in sight is preferred.
 */
function placeWords(
  part: Part,
  at: Point,
  wraps: EdgeKind | undefined,
  { mm }: LengthWords,
): string {
  const said = [
    [-1, 0, 'left'],
    [1, 0, 'right'],
    [0, -1, 'rear'],
    [0, 1, 'front'],
  ] as const;
  const found = said.flatMap(([x, y, side]) => {
    const edge = touchedEdge(part, at, { x, y }, wraps);
    return edge === null ? [] : [{ ...edge, side }];
  });
  const words = [found.filter(isAcross), found.filter((one) => !isAcross(one))].flatMap((both) => {
    const [best] = both.toSorted((a, b) => Number(a.isLoose) - Number(b.isLoose) || a.off - b.off);
    return best === undefined ? [] : [`${best.side} ${mm(best.off)}`];
  });
  return words.length === 0 ? 'as the plan shows' : words.join(', ');
}

function isAcross({ side }: { readonly side: string }): boolean {
  return side === 'left' || side === 'right';
}

/**
 * How far it is from a point of a part to its edge in a direction, mm, and whether that edge hangs loose until it is
 * tucked. null: there is none.
 */
function touchedEdge(
  { net, cut, edges }: Part,
  at: Point,
  to: Point,
  wraps: EdgeKind | undefined,
): { readonly off: number; readonly isLoose: boolean } | null {
  const box = boxOfPath(cut);
  const far = widthOf(box) + heightOf(box);
  const ray = polyline([at, { x: at.x + far * to.x, y: at.y + far * to.y }], false);
  const offs = (path: Path): number[] =>
    pathCrossings(ray, path).map((point) => Math.abs(point.x - at.x) + Math.abs(point.y - at.y));
  const nearest = Math.min(...offs(net));
  if (!Number.isFinite(nearest)) return null;
  const kind = edges.find(({ path }) =>
    offs(path).some((off) => Math.abs(off - nearest) < 0.01),
  )?.kind;
  if (kind !== 'tuck' || wraps === 'tuck') return { off: nearest, isLoose: false };
  const outer = offs(cut).filter((off) => off >= nearest - 0.01);
  return { off: outer.length === 0 ? nearest : Math.min(...outer), isLoose: true };
}
