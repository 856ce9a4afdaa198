import { refuse } from '../findings.ts';
import { boxOfPath } from '../geometry/box.ts';
import { pathLength } from '../geometry/path.ts';
import { transformPath, translation } from '../geometry/transform.ts';
import type { Path } from '../geometry/path.ts';
import { biteSlack } from '../lay/bites.ts';
import type { Cutter } from './cutter.ts';
import { estimate } from './estimate.ts';
import type { KnifePath, Move } from './moves.ts';
import type { Bite, Cut } from './cuts.ts';
import type { CutMoves, KnifeState } from './strokes.ts';
import { tipPath } from './strokes.ts';
import { cutTangential } from './tangential.ts';
import { cutTrailing } from './trailing.ts';

/**
 * The way of the knife over bites of a lay, each in the bed's frame, in material of `thickness` mm
 * of which `fed` mm were fed before. The knife starts up, over 0, 0 and heading 0 degrees. Throws a
 * Refusal that names the part where one does not lie on the bed.
 */
export function knifePath(
  bites: readonly Bite[],
  cutter: Cutter,
  _thickness: number,
  fed = 0,
): KnifePath {
  const moves: Move[] = [];
  let state: KnifeState = { at: { x: 0, y: 0 }, deg: 0 };
  let at = fed;
  let cutLength = 0;
  for (const bite of bites) {
    checkBed(bite, cutter);
    if (bite.start > at) moves.push({ kind: 'feed', length: bite.start - at });
    at = bite.start;
    for (const cut of bite.cuts) {
      const tip = tipOnBed(cut, bite, cutter);
      const { moves: stroke, after } = cutPath(tip, state, cutter);
      moves.push({ kind: 'note', text: `${cut.label} ${cut.kind}` }, ...stroke);
      state = after;
      cutLength += pathLength(tip);
    }
  }
  return { moves, cutLength, ...estimate(moves, cutter), bites: bites.length };
}

function tipOnBed({ path }: Cut, { start }: Bite, cutter: Cutter): Path {
  return transformPath(translation({ x: -start, y: 0 }), tipPath(path, cutter.closingOverlap));
}

function cutPath(tip: Path, from: KnifeState, { knife, heights }: Cutter): CutMoves {
  return knife.kind === 'tangential'
    ? cutTangential(tip, from, knife, heights.cut)
    : cutTrailing(tip, from, knife, heights.cut);
}

/** A part must lie on the bed as a whole, within its bite. */
function checkBed({ start, cuts }: Bite, { name, bed }: Cutter): void {
  for (const { label, kind, path } of cuts) {
    if (kind !== 'outline') continue;
    const { minX, minY, maxX, maxY } = boxOfPath(path);
    if (minX < start - biteSlack || maxX > start + bed.length + biteSlack) {
      refuse(
        'off-the-bed',
        `the part lies from ${minX.toFixed(1)} to ${maxX.toFixed(1)} mm along the roll; the bed of ${name} holds ${start.toFixed(1)} to ${(start + bed.length).toFixed(1)} mm of it in that bite.`,
        'Lay the parts again for this cutter, or split the piece.',
        { part: label },
      );
    }
    if (minY < -biteSlack || maxY > bed.width + biteSlack) {
      refuse(
        'off-the-bed',
        `the part lies from ${minY.toFixed(1)} to ${maxY.toFixed(1)} mm across the roll; the bed of ${name} is ${bed.width} mm wide.`,
        'Lay the parts on a narrower roll, or choose a wider cutter.',
        { part: label },
      );
    }
  }
}
