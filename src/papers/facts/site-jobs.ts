import type { LengthWords } from '../../base/wording.ts';
import { boxOfPath, middleOfPath, polyline } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { pathCrossings } from '../../geometry/relations/crossings.ts';
import { letterOf } from '../../handing/bench-facts.ts';
import type { Mark, Part } from '../../handing/part.ts';
import { partTitle } from '../../handing/part-title.ts';
import type { PatternSet } from '../../pattern/set.ts';

/** One place where something is cut or pierced in the vehicle. */
interface SitePlace {
  /** The letter that stands at it in the plan. */
  readonly letter: string;
  /** In the vehicle's frame, mm. */
  readonly at: Point;
  readonly mark: Mark;
  /** Its distances from two edges of the finished part, in words. */
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
              const words = placeWords(part.net, at, lengths);
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
 * Where a point of a part is, by its distances from the nearer of the edges left and right of it and of those in front
 * and behind, measured straight across and straight along.
 */
function placeWords(net: Path, at: Point, { mm }: LengthWords): string {
  const { minX, minY, maxX, maxY } = boxOfPath(net);
  const along = (from: Point, to: Point): Point[] =>
    pathCrossings(polyline([from, to], false), net);
  const across = along({ x: minX - 1, y: at.y }, { x: maxX + 1, y: at.y }).map(({ x }) => x - at.x);
  const ahead = along({ x: at.x, y: minY - 1 }, { x: at.x, y: maxY + 1 }).map(({ y }) => y - at.y);
  const words = [...nearer(across, 'left', 'right'), ...nearer(ahead, 'rear', 'front')].map(
    ({ off, side }) => `${side} ${mm(off)}`,
  );
  return words.length === 0 ? 'as the plan shows' : words.join(', ');
}

/** The nearest of places on a line, and on which side of zero it lies. */
function nearer(
  places: readonly number[],
  below: string,
  above: string,
): { off: number; side: string }[] {
  const nearest = places.toSorted((a, b) => Math.abs(a) - Math.abs(b))[0];
  if (nearest === undefined) return [];
  return [{ off: Math.abs(nearest), side: nearest < 0 ? below : above }];
}
