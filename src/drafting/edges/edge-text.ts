import type { TextEntity } from '../../drawing/drawing.ts';
import { headingDeg } from '../../geometry/paths/angle.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { alongPath, pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { dot, leftOf, plus, rightOf, times } from '../../geometry/paths/point.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import type { Feature } from '../../pattern/feature.ts';
import { layerName } from '../../pattern/layers.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import { namedBy } from './drawn-traces.ts';

/** Height of the letters of an edge's name, mm: as in drawings that people make; smaller beside short lines. */
const heights = { most: 15, least: 4 };

/** How wide a letter is, as a share of its height. */
const letterWidth = 0.8;

/** Where along a line its name is tried, as shares of its length: beside its middle if that is possible. */
const shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];

/** How far from its line a name is tried, as shares of the height of its letters. */
const gaps = [0.6, 0.3, 1.2, 0.1, 2, 0];

/**
 * The name of a traced edge as a text on its layer, along the line and outside the outline, where readers
 * give it to this line and to no other of `features`. `path` is the line along the outline. Where there is no such place outside it may lie inside.
 * null: the line lies so near to others of its layer that no text could name it.
 */
export function edgeText(
  own: { readonly feature: Feature; readonly path: Path },
  name: string,
  features: readonly Feature[],
  outline: MeasuredPath,
  { map, piece }: EdgeDraft,
): TextEntity | null {
  const places = placesBeside(layerName(own.feature), own.path, name);
  const isOutside = ({ at }: TextEntity): boolean => placeInArea(outline, at) === 'outside';
  const names = (text: TextEntity): boolean => namedBy(text, features, map, piece) === own.feature;
  return (
    places.find((text) => isOutside(text) && names(text)) ??
    places.find((text) => names(text)) ??
    null
  );
}

/** Texts beside a line that runs counter-clockwise round its piece; those that look best come first. */
function placesBeside(layer: string, path: Path, name: string): TextEntity[] {
  const length = pathLength(path);
  const usual = Math.min(heights.most, Math.max(heights.least, length / (name.length + 2)));
  const height = Math.round(usual);
  return [height, heights.least].flatMap((tall) =>
    gaps.flatMap((gap) =>
      shares.flatMap((share) => {
        const { point, tangent } = alongPath(path, length * share);
        return [rightOf(tangent), leftOf(tangent)].flatMap((away) =>
          [0.5, 0].map((before) =>
            textBeside(layer, name, tall, point, tangent, away, gap, before),
          ),
        );
      }),
    ),
  );
}

/**
 * A text that runs along a line, so that it can be read from below or from the right. `away`: to which side of
 * the line it stands. `before`: the share of its width that stands before the point.
 */
function textBeside(
  layer: string,
  name: string,
  height: number,
  point: Point,
  tangent: Point,
  away: Point,
  gap: number,
  before: number,
): TextEntity {
  const isForward = tangent.x > 1e-9 || (Math.abs(tangent.x) <= 1e-9 && tangent.y > 0);
  const reading = isForward ? tangent : times(tangent, -1);
  // The insertion point is the left end of the foot of the letters.
  const isAbove = dot(leftOf(reading), away) > 0;
  const off = height * gap + (isAbove || gap === 0 ? 0 : height);
  const back = -before * name.length * letterWidth * height;
  const at = plus(plus(point, times(away, off)), times(reading, back));
  const deg = headingDeg(reading);
  return { kind: 'text', layer, line: 0, at, text: name, height, deg };
}
