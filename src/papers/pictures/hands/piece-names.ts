import { boxesOverlap } from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Entry } from '../../svg/legend.ts';
import { roomOf } from './hand-panel.ts';
import type { FittedText } from '../../svg/label.ts';
import { boxOfText, breaksOf, fitText, lineSpacing, placesIn } from '../../svg/label.ts';
import { oblong } from '../lay/roll-picture.ts';
import type { ShownHand, ShownPiece } from './shown-hand.ts';
import { escapeXml, mm } from '../../svg/svg.ts';

/** Heights of type for names, mm on the page. */
const sizes = { smallest: 2.9, largest: 4.4 };

/**
 * The names on the pieces of several hands, or numbers where names do not fit, and the key to the
 * numbers.
 */
export function drawNames(hands: readonly ShownHand[]): { labels: string; key: Entry[] } {
  const fitted = hands.map(fitNames);
  const numbered = fitted.flatMap((names) =>
    names.filter(({ text }) => text === null).map(({ piece }) => piece.name),
  );
  const key = [...new Set(numbered)];
  const labels = fitted.flatMap((names, i) => {
    const taken = names.flatMap(({ text }) => (text === null ? [] : [roomOfText(text)]));
    return names.map(({ piece, text }) => {
      if (text !== null) return drawLines(text);
      const number = String(key.indexOf(piece.name) + 1);
      return drawLines(fitNumber(number, piece, [...taken, ...obstaclesOn(piece, hands[i]!)]));
    });
  });
  return {
    labels: labels.join('\n'),
    key: key.map((name, i) => ({
      mark: `<text font-weight="bold">${i + 1}</text>`,
      words: name,
    })),
  };
}

interface Named {
  readonly piece: ShownPiece;
  readonly text: FittedText | null;
}

/** Fits names onto the visible part of their pieces, so that they do not cover each other. */
function fitNames(hand: ShownHand): Named[] {
  return hand.pieces.map((piece) => {
    // A name is broken after its hyphens, which stay.
    const settings = breaksOf(piece.name.split(/(?<=-)/));
    const block = { settings, below: { rows: 0, width: 0 } };
    return { piece, text: fitText(block, piece.outline, obstaclesOn(piece, hand), sizes) };
  });
}

/** What lies on a piece and must not be covered by its name. */
function obstaclesOn(piece: ShownPiece, { pieces, marked }: ShownHand): Path[] {
  const box = boxOfPath(piece.outline);
  const above = pieces.slice(pieces.indexOf(piece) + 1).map(({ outline }) => outline);
  const points = piece.lines.filter(({ vertices }) => vertices.length === 1);
  return [
    ...piece.holes,
    ...above,
    ...points.map((path) => roomOf(path, false)),
    ...marked.map(({ path }) => roomOf(path, true)),
  ].filter((path) => boxesOverlap(boxOfPath(path), box));
}

function roomOfText(text: FittedText): Path {
  const { minX, minY, maxX, maxY } = boxOfText(text);
  return oblong(minX, minY, maxX, maxY);
}

/** Places a number in the smallest type. It may cover the outline rather than what lies on the piece. */
function fitNumber(number: string, piece: ShownPiece, obstacles: readonly Path[]): FittedText {
  const boxes = obstacles.map(boxOfPath);
  const texts = [...placesIn(piece.outline, obstacles), ...placesIn(piece.outline, [])].map(
    (centre): FittedText => ({ lines: [number], size: sizes.smallest, centre }),
  );
  const isClear = (text: FittedText): boolean =>
    boxes.every((box) => !boxesOverlap(box, boxOfText(text)));
  const block = { settings: [[number]], below: { rows: 0, width: 0 } };
  const { smallest } = sizes;
  const fitted = fitText(block, piece.outline, obstacles, { smallest, largest: smallest });
  return fitted ?? texts.find(isClear) ?? texts[0]!;
}

function drawLines({ lines, size, centre }: FittedText): string {
  const top = centre.y - (lines.length * size * lineSpacing) / 2;
  const texts = lines.map(
    (line, i) =>
      `<text x="${mm(centre.x)}" y="${mm(top + (i + 0.85) * size * lineSpacing)}">${escapeXml(line)}</text>`,
  );
  return `<g font-size="${mm(size)}" font-weight="bold" text-anchor="middle" stroke="#ffffff" stroke-width="${mm(size / 5)}" stroke-linejoin="round" paint-order="stroke">${texts.join('')}</g>`;
}
