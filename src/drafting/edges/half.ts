import { cross, minus } from '../../geometry/paths/point.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import { pathOfEntity } from '../../drawing/entity-of.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import type { Entity } from '../../drawing/drawing.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { LayerMap, Role } from '../../pattern/layers.ts';
import { meaningOf } from '../../pattern/layers.ts';
import { mirrorTolerance } from '../../pattern/outlines/unfold.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import type { Span } from './spans.ts';
import { commonSpans, joinedSpans, spanOf, spanWithout } from './spans.ts';

/**
 * The part of the whole outline that is drawn, of a piece that is drawn half; null: all of it is drawn. Throws
 * RangeError if the mirror line does not divide the outline: then the piece could not have been read.
 */
export function drawnHalf({ piece, entities, map }: EdgeDraft, outline: MeasuredPath): Span | null {
  if (!piece.entry.half) return null;
  const line = mirrorLine(entities, map);
  if (line === null) throw new RangeError('a piece drawn half has no mirror line');
  const [tail, head] = line;
  const offOf = (p: Point): number =>
    cross(minus(head, tail), minus(p, tail)) / distance(tail, head);
  const drawn = pathsOn('OUTLINE', entities, map)
    .flatMap(({ vertices }) => vertices.map(offOf))
    .reduce((most, off) => (Math.abs(off) > Math.abs(most) ? off : most), 0);
  const isDrawn = outline.segments.map(
    (segment) => Math.sign(offOf(pointAt(segment, 0.5))) === Math.sign(drawn),
  );
  const isOn = outline.segments.map(({ from }) => Math.abs(offOf(from)) <= mirrorTolerance);
  const begins = isDrawn.findIndex((is, i) => is && isOn[i]! && isDrawn.at(i - 1) === false);
  const ends = isDrawn.findIndex((is, i) => !is && isOn[i]! && isDrawn.at(i - 1) === true);
  if (begins === -1 || ends === -1) throw new RangeError('a mirror line that divides no outline');
  return spanOf(outline.starts[begins]!, outline.starts[ends]!, outline.length);
}

/** The ends of the line in which a piece that is drawn half is mirrored; null: there is none. */
export function mirrorLine(entities: readonly Entity[], map: LayerMap): [Point, Point] | null {
  const line = pathsOn('AXIS', entities, map)[0]?.vertices;
  return line === undefined ? null : [line[0]!, line.at(-1)!];
}

function pathsOn(role: Role, entities: readonly Entity[], map: LayerMap): Path[] {
  return entities
    .filter(({ kind, layer }) => kind === 'path' && meaningOf(layer, map)?.role === role)
    .map(pathOfEntity);
}

/** The mirror image of a span of a piece that is drawn half. */
export function mirroredSpan({ from, to }: Span, half: Span, round: number): Span {
  return spanOf(2 * half.from - to, 2 * half.from - from, round);
}

/** A span as it is drawn: what lies on the half that is not drawn is mirrored onto the other. */
export function ontoDrawnHalf(span: Span, half: Span | null, round: number): Span[] {
  if (half === null) return [span];
  const own = commonSpans(span, [half], round);
  const images = spanWithout(span, [half], round).map((one) => mirroredSpan(one, half, round));
  return joinedSpans([...own, ...images], round, samePoint);
}
