import type { Finding } from '../../base/findings.ts';
import { memoryByKey } from '../../base/remembered.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { HeadingChange } from '../../geometry/paths/turns.ts';
import { turnsOf } from '../../geometry/paths/turns.ts';
import type { Binding } from '../../pattern/shop/binding.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { partWarning } from '../findings.ts';
import type { Part } from '../part.ts';
import { unbrokenEdges } from '../edges/unbroken.ts';

/** A radius that is drawn as the limit itself is allowed, in spite of rounding; mm. */
const slack = 1e-3;

/** A turned edge still stretches round an inside curve whose radius is this many times its allowance. */
const stretches = 5;

/**
 * Rule: inside corners and curves of bound edges are not tighter than the tape can be laid. A sharp
 * corner has the radius 0.
 */
export function checkBoundCorners(part: Part, { insideRadius, title, kind }: Binding): Finding[] {
  return insideCorners(part, 'bound', insideRadius).map((corner) => {
    const message = `${wordCorner(corner)} on a bound edge is too tight: ${title} goes round ${insideRadius} mm at the least.`;
    const byHand = kind === 'tape' ? 'mitre the tape' : 'finish it';
    const todo = `Round it in the drawing, or ${byHand} there by hand.`;
    return partWarning(part, { rule: 'bound-corner', message, todo }, corner.at);
  });
}

/**
 * Rule: an inside corner or a tight inside curve of a turned edge needs a snip. When an allowance w is
 * folded back, its edge moves from radius R - w to radius R + w. At R = 5 w it would have to stretch by
 * half, (R + w) / (R - w) = 1.5, which no backing does. A sharp corner always needs a snip.
 */
export function checkTurnedCorners(part: Part, materials: Materials): Finding[] {
  const { turned } = materialOf(materials, part.material).allowances;
  return insideCorners(part, 'turned', stretches * turned).map((corner) => {
    const message = `${wordCorner(corner)} on a turned edge needs a snip: ${turned} mm of allowance do not fold back round it.`;
    const todo = 'Mark the snip on the pattern, or bind that edge.';
    return partWarning(part, { rule: 'turned-corner', message, todo }, corner.at);
  });
}

const turnsBefore = memoryByKey<Part, HeadingChange[]>(2);

/**
 * The places where edges of a kind turn into the part with less than a radius. Outlines run
 * counter-clockwise, so a turn to the right is a turn into the part. Of places that are nearer to each
 * other than the radius, only the tightest is given.
 */
function insideCorners(part: Part, kind: EdgeKind, radius: number): HeadingChange[] {
  const turns = turnsBefore(part, kind, () => unbrokenEdges(part.edges, kind).flatMap(turnsOf));
  const kept: HeadingChange[] = [];
  for (const turn of turns) {
    if (turn.turn >= 0 || turn.radius >= radius - slack) continue;
    const last = kept.at(-1);
    if (last === undefined || distance(last.at, turn.at) >= radius) kept.push(turn);
    else if (turn.radius < last.radius) kept[kept.length - 1] = turn;
  }
  return kept;
}

function wordCorner({ radius }: HeadingChange): string {
  return radius === 0
    ? 'a sharp inside corner'
    : `an inside curve of radius ${radius.toFixed(0)} mm`;
}
