import type { PathEntity } from '../../drawing/drawing.ts';
import type { Box } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Role } from '../layers.ts';

/** A closed line that is cut, or that may be cut because its layer has no meaning. */
export interface ClosedLine {
  readonly entity: PathEntity;
  readonly path: Path;
  /** Area in mm2. */
  readonly area: number;
  readonly role: Role | 'unknown';
  readonly box: Box;
}
