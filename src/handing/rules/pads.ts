import type { Finding } from '../../base/findings.ts';
import { furthestOutside } from '../../geometry/relations/excursion.ts';
import { meetingPlace } from '../../geometry/relations/meeting.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import { partError } from '../findings.ts';
import type { Part } from '../part.ts';

/**
 * Rule: a heel pad lies wholly on its piece and flat: not over a fold, a cutout, a hole, or another pad.
 */
export function checkPads(part: Part): Finding[] {
  const pads = part.marks.filter(({ role }) => role === 'PAD').map(({ path }) => path);
  return pads.flatMap((pad, i) => [
    ...checkOnPiece(part, pad),
    ...checkClear(part, pad, 'pad-on-fold', 'a fold line', marksOf(part, 'FOLD')),
    ...checkClear(part, pad, 'pad-on-cutout', 'what is cut out', [
      ...part.inner.map(({ path }) => path),
      ...marksOf(part, 'DRILL'),
    ]),
    ...checkClear(part, pad, 'pads-overlap', 'another heel pad', pads.slice(i + 1)),
  ]);
}

function marksOf({ marks }: Part, wanted: 'FOLD' | 'DRILL'): Path[] {
  return marks.filter(({ role }) => role === wanted).map(({ path }) => path);
}

function checkOnPiece(part: Part, pad: Path): Finding[] {
  const outside = furthestOutside(measurePath(part.net), pad, traceTolerance);
  if (outside === null) return [];
  const message = `the heel pad stands out over the edge of its piece by up to ${outside.distance.toFixed(1)} mm.`;
  const wording = { rule: 'pad-outside', message, todo: 'Move it onto the piece.' };
  return [partError(part, wording, outside.at)];
}

function checkClear(
  part: Part,
  pad: Path,
  rule: string,
  what: string,
  paths: readonly Path[],
): Finding[] {
  const at = paths.map((path) => meetingPlace(pad, path)).find((place) => place !== null);
  if (at === undefined) return [];
  const message = `a heel pad lies over ${what}.`;
  const todo = 'Move one of the two, or draw a pad of another shape for this side.';
  return [partError(part, { rule, message, todo }, at)];
}
