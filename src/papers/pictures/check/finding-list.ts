import type { Finding } from '../../../base/findings.ts';
import { wordPlace, wordSpot, worstFirst } from '../../../base/findings.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { rounded } from '../../../base/numbers.ts';
import type { Piece } from '../../../pattern/piece.ts';
import type { PatternSet } from '../../../pattern/set.ts';
import type { Hand } from '../../../pattern/words.ts';
import type { Landmark } from './finding-place.ts';
import { nearestLandmark, placeOnPiece } from './finding-place.ts';
import { counted } from '../../../base/wording.ts';

/** A finding as it is shown to the pattern maker. */
export interface ListedFinding {
  /** Its number in the whole list, from 1. */
  readonly number: number;
  readonly finding: Finding;
  /** All parts on which the same finding lies at the same place of the drawing. */
  readonly parts: readonly string[];
  /** Its place in mm, in the frame of the block that draws its piece. null: it has none there. */
  readonly at: Point | null;
  /** What is drawn near its place; null: nothing that helps to find it. */
  readonly near: string | null;
}

/** The findings on one piece. `piece` null: those on the set as a whole. */
export interface FindingGroup {
  readonly piece: string | null;
  readonly findings: readonly ListedFinding[];
}

/**
 * Findings by piece, in the order of the set file; those on the whole set come first. Within a piece the
 * worst come first. The same finding on several parts at one place of the drawing is listed once.
 */
export function listFindings(
  { content, pieces }: Pick<PatternSet, 'content' | 'pieces'>,
  findings: readonly Finding[],
): FindingGroup[] {
  const names = [null, ...Object.keys(content.pieces)];
  const groups = names.map((name) => {
    const piece = pieces.find((one) => one.name === name);
    const own = worstFirst(findings.filter(({ where }) => groupOf(where.piece, names) === name));
    return { piece: name, findings: joined(own.map((one) => placed(one, piece, content.drawn))) };
  });
  let number = 0;
  return groups
    .filter((group) => group.findings.length > 0)
    .map((group) => ({
      ...group,
      findings: group.findings.map((one) => {
        number += 1;
        return { number, ...one };
      }),
    }));
}

type UnnumberedFinding = Omit<ListedFinding, 'number'>;

/** Joins findings that only differ in their part. */
function joined(placedFindings: readonly UnnumberedFinding[]): UnnumberedFinding[] {
  const alike = new Map<string, UnnumberedFinding>();
  for (const one of placedFindings) {
    const { severity, rule, message, todo, where } = one.finding;
    const at = one.at === null ? null : [rounded(one.at.x, 2), rounded(one.at.y, 2)];
    const { piece, file, line, choice } = where;
    const key = JSON.stringify([severity, rule, message, todo, piece, file, line, choice, at]);
    const first = alike.get(key);
    const parts = [...new Set([...(first?.parts ?? []), ...one.parts])];
    alike.set(key, { ...oneOrBothHands(first ?? one, one), parts });
  }
  return [...alike.values()];
}

/** The first of two findings that are alike. If they are of two hands, it names none. */
function oneOrBothHands(first: UnnumberedFinding, other: UnnumberedFinding): UnnumberedFinding {
  const { hand, ...where } = first.finding.where;
  if (hand === other.finding.where.hand) return first;
  return { ...first, finding: { ...first.finding, where } };
}

/**
 * The piece in whose group a finding stands. A finding on a piece that the set does not have stands with
 * those on the set.
 */
function groupOf(piece: string | undefined, names: readonly (string | null)[]): string | null {
  return piece !== undefined && names.includes(piece) ? piece : null;
}

function placed(finding: Finding, piece: Piece | undefined, drawn: Hand): UnnumberedFinding {
  const { part, at = null } = finding.where;
  const parts = part === undefined ? [] : [part];
  if (piece === undefined) return { finding, parts, at, near: null };
  const there = placeOnPiece(finding, piece, drawn);
  const landmark = there === null ? null : nearestLandmark(piece, there, finding.message);
  return { finding, parts, at: there, near: landmark === null ? null : nearWords(landmark) };
}

function nearWords({ words, distance }: Landmark): string {
  return distance < 1 ? `on ${words}` : `${distance.toFixed(0)} mm from ${words}`;
}

/** The place as drawn, what is wrong, and what to do. The piece stands in the heading. */
export function listedWords({ finding, parts, at, near }: ListedFinding): string {
  const { file, line, column, piece, hand, choice } = finding.where;
  const place = [
    wordPlace({
      ...(file === undefined ? {} : { file }),
      ...(line === undefined ? {} : { line }),
      ...(column === undefined ? {} : { column }),
    }),
    parts.length === 0 ? '' : `${parts.length === 1 ? 'part' : 'parts'} ${parts.join(' and ')}`,
    hand === undefined ? '' : `in ${hand}`,
    choice ?? '',
    at === null ? '' : `at ${wordSpot(at)}${piece === undefined ? '' : " in the piece's drawing"}`,
    near ?? '',
  ]
    .filter((word) => word !== '')
    .join(', ');
  return `${place === '' ? '' : `${place}: `}${finding.message} ${finding.todo}`.trim();
}

/** The totals in words: `2 errors, 1 warning in 14 pieces`, or `nothing found in ...`. */
export function totalWords(groups: readonly FindingGroup[], pieces: number): string {
  const all = groups.flatMap(({ findings }) => findings);
  const words = (['error', 'warning', 'note'] as const).flatMap((severity) => {
    const count = all.filter(({ finding }) => finding.severity === severity).length;
    return count === 0 ? [] : [counted(count, severity)];
  });
  return `${words.join(', ') || 'nothing found'} in ${counted(pieces, 'piece')}`;
}
