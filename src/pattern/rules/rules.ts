import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { Piece } from '../piece.ts';
import type { SetContent } from '../set-file.ts';
import type { Hand } from '../words.ts';
import { checkAxisAskew } from './axis-askew.ts';
import { checkAxisMiddle } from './axis-middle.ts';
import { checkAxisPlaces } from './axis-place.ts';
import { checkContours } from './contours.ts';
import { checkCopies, checkDrawnTwice } from './copies.ts';
import { checkCovers } from './covers.ts';
import { checkEdgeNameProposals } from './edge-name-proposals.ts';
import { checkFolds } from './folds.ts';
import { checkGroups } from './groups.ts';
import { checkHalfDrawn } from './half-drawn.ts';
import { checkHands } from './hands.ts';
import { checkInside } from './inside.ts';
import { checkMirrored } from './mirrored.ts';
import { checkPieceNames } from './names.ts';
import { checkNarrowRing } from './narrow-ring.ts';
import { checkNotchShapes } from './notch-shapes.ts';
import { checkOnSite } from './on-site.ts';
import { checkOpenQuestions } from './open-questions.ts';
import { checkOneSided } from './one-sided.ts';
import { checkPairNotes } from './pair-notes.ts';
import { checkLonePads, checkPad } from './pads.ts';
import { checkSeamNames } from './seams.ts';
import { checkSideMarks } from './side-marks.ts';
import { checkSetSize } from './set-size.ts';
import { checkSideNames } from './side-names.ts';
import { checkSnapped } from './snapped.ts';
import { checkTwins } from './twins.ts';
import { checkStated } from './stated.ts';
import { checkTuckCircles } from './tuck-circles.ts';
import { sizeFindings } from '../first-look/size.ts';

/**
 * What is wrong with a piece as drawn for a hand, for any order. Places are in mm in the frame of its
 * block.
 */
export function checkPiece(piece: Piece, drawn: Hand): Finding[] {
  return [
    ...checkContours(piece),
    ...sizeFindings(piece.outline, piece.where),
    ...checkInside(piece, drawn),
    ...checkNarrowRing(piece),
    ...checkFolds(piece),
    ...checkHands(piece),
    ...checkAxisMiddle(piece),
    ...checkAxisAskew(piece),
    ...checkOneSided(piece),
    ...checkPad(piece),
    ...(piece.other === null ? [] : checkMirrored(piece, piece.other)),
  ];
}

/**
 * What is wrong with a set file, by itself and compared with those of its pieces that could be read.
 * `absent`: those that vehicles with these options do not have. `isMaterial`: whether the shop has a
 * material of that name.
 */
export function checkSetContent(
  yaml: YamlFile<SetContent>,
  pieces: readonly Piece[],
  absent: ReadonlySet<string>,
  isMaterial: (name: string) => boolean,
): Finding[] {
  return [
    ...checkOpenQuestions(yaml),
    ...checkPieceNames(yaml),
    ...checkGroups(yaml),
    ...checkSideNames(yaml),
    ...checkSeamNames(yaml),
    ...checkTuckCircles(yaml, absent),
    ...checkAxisPlaces(pieces),
    ...checkCopies(pieces),
    ...checkDrawnTwice(pieces),
    ...pieces.flatMap((piece) => checkCovers(yaml, piece)),
    ...pieces.flatMap((piece) => checkOnSite(yaml, piece)),
    ...pieces.flatMap((piece) => checkPairNotes(yaml.value, piece)),
    ...pieces.flatMap((piece) => checkSideMarks(yaml.value, piece, pieces)),
    ...checkTwins(yaml.value, pieces),
    ...checkLonePads(pieces),
    ...pieces.flatMap((piece) => checkHalfDrawn(piece, pieces)),
    ...checkSnapped(pieces),
    ...checkSetSize(pieces),
    ...checkNotchShapes(pieces),
    ...checkEdgeNameProposals(pieces),
    ...pieces.flatMap((piece) => checkStated(piece, yaml.value, isMaterial)),
  ];
}
