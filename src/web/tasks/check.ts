import { basename } from 'node:path';
import { checkSet } from '../../jobs/check.ts';
import { cellsOf, drawCell } from '../../papers/pictures/check/check-cells.ts';
import { edgeKey } from '../../papers/pictures/check/drawn-piece.ts';
import type { ListedFinding } from '../../papers/pictures/check/finding-list.ts';
import { listedWords, listFindings, totalWords } from '../../papers/pictures/check/finding-list.ts';
import { rect, svgPage } from '../../papers/svg/svg.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { SetCheck } from '../api/sets.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { quotable } from '../workshop/quoted.ts';
import { placeIn } from '../workshop/workshop.ts';

/** The greatest width of a piece in its picture, mm. */
const pictureWidth = 150;

/** What `check` finds on a set, with a picture of each piece that it is found on. Throws a Refusal. */
export function check({ shop, set }: { shop: Workshop; set: string }): SetCheck {
  const { patterns, findings } = checkSet(placeIn(shop.patterns, set), shop.shared);
  const shown = findings.map((one) => quotable(one, shop));
  const groups = listFindings(patterns, shown);
  return {
    name: set,
    title: patterns.content.title,
    total: totalWords(groups, Object.keys(patterns.content.pieces).length),
    edges: edgeLegendPicture(),
    groups: groups.map((group) => ({
      piece: group.piece,
      svg: group.piece === null ? null : pictureOf(group.piece, patterns.pieces, group.findings),
      findings: group.findings.map((one) => ({
        number: one.number,
        severity: one.finding.severity,
        words: listedWords(named(one)),
      })),
    })),
    sound: patterns.pieces
      .filter(({ name }) => groups.every(({ piece }) => piece !== name))
      .map(({ name }) => ({ piece: name, svg: pictureOf(name, patterns.pieces, []) })),
  };
}

/** How the edges of pieces are drawn. */
function edgeLegendPicture(): string {
  const type = 3.2;
  const { svg, height } = edgeKey(0, 0, pictureWidth, type);
  return svgPage({ width: pictureWidth, height: height + 1, type }, 'How edges are drawn', [svg]);
}

function pictureOf(
  name: string,
  pieces: readonly Piece[],
  findings: readonly ListedFinding[],
): string {
  const piece = pieces.find((one) => one.name === name) ?? null;
  // The page shows the name as a heading.
  const [cell] = cellsOf([{ name: '', piece, findings }], pictureWidth);
  const size = { width: cell!.width, height: cell!.height, type: 3.2 };
  const paper = rect(0, 0, size.width, size.height, 'fill="#ffffff"');
  return svgPage(size, name, [paper, drawCell(cell!, { x: 0, y: 0 })]);
}

/** The finding with its file's name alone: whoever looks at the page knows which set it is. */
function named(one: ListedFinding): ListedFinding {
  const { file, ...where } = one.finding.where;
  if (file === undefined) return one;
  return { ...one, finding: { ...one.finding, where: { ...where, file: basename(file) } } };
}
