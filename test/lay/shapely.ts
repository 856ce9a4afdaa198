import { pythonWith } from '../support/python.ts';

/** The Python library shapely as a referee, where Debian's Python has it. */
export const shapely = pythonWith('shapely');

export interface RefereePart {
  /** Points of the cut contour and of each inner contour in the part's own frame. */
  readonly rings: readonly (readonly (readonly [number, number])[])[];
  readonly x: number;
  readonly y: number;
  readonly rotation: number;
}

export interface RefereeVerdict {
  /** Sum of the areas, mm2. */
  readonly area: number;
  /** Area of all of them united: less where any overlap. */
  readonly unitedArea: number;
  /** Least distance of any two, mm. */
  readonly leastDistance: number;
  readonly bounds: readonly [number, number, number, number];
}

const script = `
import itertools, json, sys
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon
from shapely.ops import unary_union

def placed(part):
    outer, *inner = part['rings']
    polygon = Polygon(outer, inner)
    return translate(rotate(polygon, part['rotation'], origin=(0, 0)), part['x'], part['y'])

polygons = [placed(part) for part in json.load(sys.stdin)]
united = unary_union(polygons)
print(json.dumps(dict(
    area=sum(p.area for p in polygons),
    unitedArea=united.area,
    leastDistance=min(a.distance(b) for a, b in itertools.combinations(polygons, 2)),
    bounds=united.bounds)))
`;

export function refereeVerdict(parts: readonly RefereePart[]): RefereeVerdict {
  return shapely.ask(script, parts) as RefereeVerdict;
}
