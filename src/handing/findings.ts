import type { Finding, Severity } from '../base/findings.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Wording } from '../pattern/findings.ts';
import type { Part } from './part.ts';

/** An error about a part. `at` is in the frame of the vehicle, mm. */
export function partError(part: Part, wording: Wording, at?: Point): Finding {
  return partFinding('error', part, wording, at);
}

export function partWarning(part: Part, wording: Wording, at?: Point): Finding {
  return partFinding('warning', part, wording, at);
}

function partFinding(
  severity: Severity,
  { piece, name, hand }: Part,
  wording: Wording,
  at: Point | undefined,
): Finding {
  const place = at === undefined ? {} : { at: { x: at.x, y: at.y } };
  return { severity, ...wording, where: { piece, part: name, hand, ...place } };
}
