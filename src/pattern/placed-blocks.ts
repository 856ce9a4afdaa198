import type { Finding } from '../base/findings.ts';
import { decimal } from '../base/numbers.ts';
import { shownNames } from '../base/wording.ts';
import type { Block, Drawing } from '../drawing/drawing.ts';
import { turnDeg } from '../geometry/paths/angle.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { isMirror, keepsCircles, transformDeg } from '../geometry/paths/transform.ts';

/** An insert turned by no more than this (degrees) shows its block upright. */
const leastTurned = 0.01;

/**
 * What is wrong with how the drawing shows a block, because a set reads the block as it is drawn. Only
 * stretched or mirrored is an error: that would be another piece. Only turned is a warning: pile, left
 * and right would be turned with it.
 */
export function placedOtherwise({ name }: Block, drawing: Drawing, piece: string): Finding[] {
  const places = drawing.entities.flatMap(({ placement }) =>
    placement?.block.toUpperCase() === name.toUpperCase() ? [placement] : [],
  );
  const [first] = places;
  if (first === undefined) return [];
  const where = { file: drawing.file, line: first.line, piece };
  const rigid = places.filter(({ transform }) => isRigid(transform));
  if (rigid.length === 0) return [misshapen(name, first.transform, where)];
  if (rigid.some(({ transform }) => Math.abs(turnOf(transform)) <= leastTurned)) return [];
  const deg = decimal(turnOf(rigid[0]!.transform), 2);
  return [
    {
      severity: 'warning',
      rule: 'placed-turned',
      message: `the drawing shows block ${name} turned by ${deg} degrees, and a set reads blocks as they are drawn: its pile, its front and its left and right are those of the block, not those that are seen.`,
      todo: 'Insert it upright if it is drawn as it lies in the vehicle, or make a set of the drawing as it is seen with "pileway import".',
      where: { ...where, line: rigid[0]!.line },
    },
  ];
}

function misshapen(name: string, transform: Transform, where: Finding['where']): Finding {
  const { a, b, c, d } = transform;
  const scale = `${decimal(Math.hypot(a, b), 3)} by ${decimal(Math.hypot(c, d), 3)}`;
  const how = isMirror(transform) ? `mirrored, scaled ${scale}` : `scaled ${scale}`;
  return {
    severity: 'error',
    rule: 'placed-otherwise',
    message: `the drawing shows block ${name} ${how}, and a set reads blocks as they are drawn.`,
    todo: 'Insert it at full size and not mirrored, or make a set of the drawing as it is seen with "pileway import".',
    where,
  };
}

/** Whether a transform only turns and moves. */
function isRigid(transform: Transform): boolean {
  const size = Math.hypot(transform.a, transform.b);
  return keepsCircles(transform) && Math.abs(size - 1) < 1e-6 && !isMirror(transform);
}

function turnOf(transform: Transform): number {
  return turnDeg(0, transformDeg(transform, 0));
}

/** A note on blocks of pieces that the drawing never shows, where it shows others of them. */
export function neverShown(drawing: Drawing, used: readonly string[]): Finding[] {
  const isUnplaced = (name: string): boolean =>
    drawing.unplaced.some((one) => one.toUpperCase() === name.toUpperCase());
  const hidden = used.filter(isUnplaced);
  if (hidden.length === 0 || hidden.length === used.length) return [];
  return [
    {
      severity: 'note',
      rule: 'never-shown',
      message: `the drawing shows the blocks of other pieces and never inserts ${shownNames(hidden)}: whoever looks at the drawing does not see what is cut from there.`,
      todo: 'Insert it where it belongs, or look at the block itself.',
      where: { file: drawing.file },
    },
  ];
}
