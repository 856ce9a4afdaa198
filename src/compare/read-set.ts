import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { refuseErrors } from '../base/findings.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Feature } from '../pattern/feature.ts';
import { layerName } from '../pattern/layers.ts';
import { readSet } from '../pattern/set.ts';
import type { Hand, Side } from '../pattern/words.ts';
import { driverSide, otherSide } from '../pattern/words.ts';
import type { Comparable, Detail, Item } from './comparable.ts';
import { unitsWord } from './units-difference.ts';
import { flatWords } from './word-differences.ts';

export function isSetFolder(folder: string): boolean {
  return existsSync(join(folder, 'set.yaml'));
}

/**
 * Reads a set for comparison: its pieces as drawn, each in the frame of its block, and what its set file
 * says. Throws a Refusal.
 */
export function comparableSet(folder: string, sharedFolder: string): Comparable {
  const { content, pieces, findings, drawnUnits } = readSet(folder, sharedFolder);
  // An error in a seam may be what somebody compares two sets for, so it is no obstacle. A piece that
  // cannot be read is.
  if (pieces.length < Object.keys(content.pieces).length) refuseErrors(findings);
  const { pieces: _, ...whole } = content;
  return {
    kind: 'set',
    items: pieces.flatMap((piece) => pieceItems(piece, content.drawn)),
    words: { ...flatWords(whole), [unitsWord]: drawnUnits.join(' and ') },
    texts: pieces.flatMap(({ name, notes }) =>
      notes.flatMap((note) => (note.kind === 'text' ? [`${name}: ${note.text}`] : [])),
    ),
  };
}

function pieceItems(piece: Piece, drawn: Hand): Item[] {
  const { name, entry, outline, features, pile, axis, other } = piece;
  const line = (role: string, ends: Piece['pile']): Detail[] =>
    ends === null ? [] : [{ role, path: polyline([ends.from, ends.to], false) }];
  const item: Item = {
    label: name,
    what: 'piece',
    side: drawnSide(entry, drawn),
    outline,
    details: [
      ...features.map(featureDetail),
      ...line('PILE', pile),
      ...line('AXIS', reduced(axis)),
    ],
    rank: null,
    words: {
      ...flatWords(entry),
      // A line that is turned about lies in the same place, so its direction is compared in words.
      ...(pile === null ? {} : { 'pile runs': direction(pile) }),
    },
    sheet: name,
  };
  if (other === null) return [item];
  return [
    item,
    ...pieceItems(other, drawn).map((one) => ({ ...one, label: `${name}, other half` })),
  ];
}

/** The side of the vehicle that the block draws. */
function drawnSide({ side, drawnSide: half }: Piece['entry'], drawn: Hand): Side | null {
  switch (side) {
    case 'pair':
      return half ?? null;
    case 'driver':
      return driverSide(drawn);
    case 'passenger':
      return otherSide(driverSide(drawn));
    case 'centre':
      return null;
    default:
      return side;
  }
}

/**
 * A centreline at a standard length and place along it: how long it was drawn means nothing, only where
 * it runs.
 */
function reduced(axis: Piece['axis']): Piece['axis'] {
  if (axis === null) return null;
  const { from, to } = axis;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  const off = from.x * along.x + from.y * along.y;
  const foot = { x: from.x - off * along.x, y: from.y - off * along.y };
  const end = (by: number): { x: number; y: number } => ({
    x: foot.x + by * along.x,
    y: foot.y + by * along.y,
  });
  return { from: end(-100), to: end(100) };
}

function featureDetail(feature: Feature): Detail {
  const { name, path } = feature;
  return { role: `${layerName(feature)}${name === null ? '' : ` ${name}`}`, path };
}

function direction({ from, to }: NonNullable<Piece['pile']>): string {
  const deg = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  return `${deg.toFixed(2)} degrees`;
}
