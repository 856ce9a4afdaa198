import type { Finding } from '../../base/findings.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Part } from '../part.ts';
import { checkBoardFolds } from './board-folds.ts';
import { checkCutouts } from './cutouts.ts';
import { checkBoundCorners, checkTurnedCorners } from './inside-corners.ts';
import { checkLabels } from './labels.ts';
import { checkLayingOrder } from './laying-circle.ts';
import { checkLevelAxis } from './level-axis.ts';
import { checkPads } from './pads.ts';
import { checkPile, checkPilesAlike } from './pile.ts';
import { checkRawEdges } from './raw-edges.ts';
import { checkSewnEdges } from './seams.ts';
import { checkSidesDrawn } from './sides-drawn.ts';
import { checkStacked } from './stacked.ts';
import { checkSuffixSides } from './suffix-sides.ts';
import { checkTape } from './tape.ts';
import { checkWraps } from './wraps.ts';

/**
 * What is wrong with the parts of one set, for this hand and these options. Places are in mm in the frame
 * of the vehicle; file and line are those of the piece's outline in the drawing.
 */
export function checkParts(
  parts: readonly Part[],
  patterns: PatternSet,
  materials: Materials,
): Finding[] {
  const { binding, content } = patterns;
  const found = [
    ...checkSidesDrawn(patterns),
    ...checkSuffixSides(patterns),
    ...checkLevelAxis(patterns, materials),
    ...checkStacked(patterns),
    ...checkPilesAlike(patterns, materials),
    ...parts.flatMap((part) => checkCutouts(part, materials)),
    ...parts.flatMap(checkPads),
    ...parts.flatMap((part) => checkPile(part, content, materials)),
    ...parts.flatMap(checkRawEdges),
    ...parts.flatMap((part) => checkWraps(part, content)),
    ...parts.flatMap((part) => checkBoardFolds(part, content)),
    ...checkTape(parts, patterns),
    ...(binding === null ? [] : parts.flatMap((part) => checkBoundCorners(part, binding))),
    ...parts.flatMap((part) => checkTurnedCorners(part, materials)),
    ...checkSewnEdges(parts, patterns, materials),
    ...checkLayingOrder(parts, patterns, materials),
    ...checkLabels(parts),
  ];
  const drawn = new Map(patterns.pieces.map(({ name, where }) => [name, where]));
  return found.map((one) => ({
    ...one,
    where: { ...drawn.get(one.where.piece ?? ''), ...one.where },
  }));
}
