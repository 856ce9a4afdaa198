import { pythonWith } from '../support/python.ts';

/** The Python library ezdxf as a referee, where a Python that has it is installed. */

export const ezdxf = pythonWith('ezdxf');

export interface RefereeEntity {
  readonly type: string;
  readonly layer: string;
  readonly area: number;
  readonly length: number;
  /** minX, minY, maxX, maxY */
  readonly box: readonly [number, number, number, number];
}

export interface RefereeReading {
  readonly version: string;
  /** Codes and messages of the audit. */
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  readonly entities: readonly RefereeEntity[];
  readonly texts: readonly string[];
  readonly extents: readonly [number, number, number, number];
}

const script = `
import io, json, math, sys
import ezdxf
from ezdxf.disassemble import recursive_decompose
from ezdxf.path import make_path

def figures(entity):
    if entity.dxftype() == 'POINT':
        x, y, _ = entity.dxf.location
        return 0, 0, [x, y, x, y]
    # make_path takes every SPLINE for a clamped one, and ellipses for cubics (0.18).
    points = list(entity.flattening(0.0005) if entity.dxftype() in ('SPLINE', 'ELLIPSE')
                  else make_path(entity).flattening(0.0005, segments=4))
    pairs = list(zip(points, points[1:]))
    x0, y0 = points[0].x, points[0].y
    area = sum((a.x-x0)*(b.y-y0) - (b.x-x0)*(a.y-y0) for a, b in pairs) / 2
    xs, ys = [p.x for p in points], [p.y for p in points]
    return area, sum(math.hypot(b.x-a.x, b.y-a.y) for a, b in pairs), [min(xs), min(ys), max(xs), max(ys)]

def read(text):
    doc = ezdxf.read(io.StringIO(text))
    audit = doc.audit()
    entities, texts = [], []
    for e in recursive_decompose(doc.modelspace()):
        if e.dxftype() in ('TEXT', 'ATTRIB', 'MTEXT'):
            texts.append(e.plain_text())
        else:
            area, length, box = figures(e)
            entities.append(dict(type=e.dxftype(), layer=e.dxf.layer, area=area, length=length, box=box))
    low, high = doc.header.get('$EXTMIN', (0, 0)), doc.header.get('$EXTMAX', (0, 0))
    return dict(version=doc.dxfversion, entities=entities, texts=texts,
        errors=[f'{e.code}: {e.message}' for e in audit.errors],
        fixes=[f'{e.code}: {e.message}' for e in audit.fixes],
        extents=[low[0], low[1], high[0], high[1]])

print(json.dumps([read(text) for text in json.load(sys.stdin)]))
`;

/** What ezdxf reads in some drawings; signed areas of open curves count as if closed by a chord. */
export function refereeReadings(drawings: readonly string[]): RefereeReading[] {
  return ezdxf.ask(script, drawings) as RefereeReading[];
}
