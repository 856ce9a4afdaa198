import type { Finding, Place } from '../../base/findings.ts';
import type { Path, Vertex } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { cross, dot, lengthOf, minus, plus, times } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { reflectionIn, transformPath, transformPoint } from '../../geometry/paths/transform.ts';
import type { DrawnLine, Feature } from '../feature.ts';

/** A line that ends within this distance of the mirror line (mm) was meant to end on it. */
export const mirrorTolerance = 0.1;

/**
 * Makes a piece whole of which only one half is drawn. A line that ends on the mirror line is joined to
 * its image there, exactly. A line that lies beside the mirror line gets an image; arcs stay arcs. A line
 * along the mirror line stays as it is. So do a PILE line, the AXIS, and a feature with a suffix, which
 * is meant for one side only. Findings: an outline that does not end on the mirror line at both ends, and
 * anything that crosses it.
 */
export function unfold(
  features: readonly Feature[],
  line: DrawnLine,
  where: Place,
): { features: Feature[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const whole = features.flatMap((feature): Feature[] => {
    const { role, follows, path } = feature;
    if (follows !== null || role === 'PILE' || role === 'AXIS') return [feature];
    const result = unfoldPath(path, line);
    const paths = 'paths' in result ? result.paths : [];
    if ('crosses' in result) findings.push(crossing(feature, result.crosses, where));
    else if (role === 'OUTLINE' && !(paths.length === 1 && paths[0]!.closed)) {
      findings.push(notOnLine(feature, line, where));
    }
    return paths.map((one) => ({ ...feature, path: one }));
  });
  return { features: whole, findings };
}

/**
 * The path with its image: one path if the two are joined, two if it lies beside the line. Or a point on
 * the other side of the line, if the path crosses it.
 */
function unfoldPath(path: Path, line: DrawnLine): { paths: readonly Path[] } | { crosses: Point } {
  const mirror = reflectionIn(line);
  const sides = path.vertices.map((vertex) => sideOf(vertex, line));
  const crosses = sides.includes(1) && sides.includes(-1);
  if (crosses)
    return {
      crosses: path.vertices[sides.indexOf(sides.find((side) => side !== 0) === 1 ? -1 : 1)]!,
    };
  if (sides.every((side) => side === 0)) return { paths: [path] };
  const open = path.closed ? openedAtLine(path, sides) : path;
  if (open === null) return { paths: [path, transformPath(mirror, path)] };
  return { paths: joined(open, line, mirror) };
}

/** 0: the point lies on the line. 1: to its left. -1: to its right. */
function sideOf(p: Point, line: DrawnLine): -1 | 0 | 1 {
  const along = minus(line.to, line.from);
  const off = cross(along, minus(p, line.from)) / lengthOf(along);
  return Math.abs(off) <= mirrorTolerance ? 0 : off > 0 ? 1 : -1;
}

/**
 * A closed path without its straight sides along the mirror line, as an open path. null: it has no such
 * sides.
 */
function openedAtLine({ vertices }: Path, sides: readonly number[]): Path | null {
  const count = vertices.length;
  const isAlong = (i: number): boolean =>
    sides[i] === 0 && sides[(i + 1) % count] === 0 && vertices[i]!.bulge === 0;
  const last = vertices.findIndex((_, i) => isAlong(i) && !isAlong((i + 1) % count));
  if (last === -1) return null;
  const kept: Vertex[] = [];
  for (let k = 1; k <= count; k++) {
    const i = (last + k) % count;
    kept.push(vertices[i]!);
    if (isAlong(i)) break;
  }
  return { closed: false, vertices: kept };
}

/** An open path, joined to its image at each end that lies on the line. */
function joined(path: Path, line: DrawnLine, mirror: Transform): Path[] {
  const { vertices } = path;
  const last = vertices.length - 1;
  const startsOn = sideOf(vertices[0]!, line) === 0;
  const endsOn = sideOf(vertices[last]!, line) === 0;
  if (!startsOn && !endsOn) return [path, transformPath(mirror, path)];
  const onLine = (vertex: Vertex): Vertex => ({ ...vertex, ...footOn(line, vertex) });
  const there = vertices.map((vertex, i) =>
    (i === 0 && startsOn) || (i === last && endsOn) ? onLine(vertex) : vertex,
  );
  // The image is run the other way. Its bulges change sign twice, by the mirror and by the direction:
  // they stay as they are.
  const back = there
    .map((vertex, i): Vertex => ({
      ...transformPoint(mirror, vertex),
      bulge: i === 0 ? 0 : there[i - 1]!.bulge,
    }))
    .toReversed();
  if (startsOn && endsOn) {
    const way = [...there.slice(0, -1), { ...there[last]!, bulge: back[0]!.bulge }];
    return [{ closed: true, vertices: [...way, ...back.slice(1, -1)] }];
  }
  if (endsOn) {
    const way = [...there.slice(0, -1), { ...there[last]!, bulge: back[0]!.bulge }];
    return [{ closed: false, vertices: [...way, ...back.slice(1)] }];
  }
  return [{ closed: false, vertices: [...back.slice(0, -1), ...there] }];
}

function footOn({ from, to }: DrawnLine, p: Point): Point {
  const along = minus(to, from);
  return plus(from, times(along, dot(minus(p, from), along) / dot(along, along)));
}

function crossing({ role, line }: Feature, at: Point, where: Place): Finding {
  return {
    severity: 'error',
    rule: 'half-crosses',
    message: `this ${role} lies on both sides of the mirror line of a piece that is drawn half.`,
    todo: 'Draw the half that lies on one side and end it on AXIS, or draw the piece whole and remove "half".',
    where: { ...where, line, at },
  };
}

function notOnLine({ path, line }: Feature, mirrorLine: DrawnLine, where: Place): Finding {
  const ends = [path.vertices[0]!, path.vertices.at(-1)!];
  const at = ends.find((end) => sideOf(end, mirrorLine) !== 0) ?? ends[0]!;
  return {
    severity: 'error',
    rule: 'half-open',
    message: `the OUTLINE of a piece that is drawn half does not begin and end on its mirror line, to ${mirrorTolerance} mm.`,
    todo: 'Let both ends of the half outline end on AXIS, or its one straight side lie along it.',
    where: { ...where, line, at: { x: at.x, y: at.y } },
  };
}
