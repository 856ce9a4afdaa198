import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { refuseErrors } from '../base/findings.ts';
import { headingDeg } from '../geometry/paths/angle.ts';
import type { Path } from '../geometry/paths/path.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Conditions } from '../pattern/conditions.ts';
import { conditionSuffix } from '../pattern/conditions.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Feature } from '../pattern/feature.ts';
import { layerName } from '../pattern/layers.ts';
import { readSetFiles, setsToTry, withAllPieces } from '../pattern/set.ts';
import type { Hand, Side } from '../pattern/words.ts';
import { driverSide, otherSide } from '../pattern/words.ts';
import type { Comparable, Detail, Item } from './comparable.ts';
import { standardAxis } from './axis-line.ts';
import { unitsWord } from './scale.ts';
import { flatWords } from './word-differences.ts';

export function isSetFolder(folder: string): boolean {
  return existsSync(join(folder, 'set.yaml'));
}

/**
 * Reads a set for comparison: its pieces as drawn, each in the frame of its block, with what is drawn for
 * any choice of its options, and what its set file says. Throws a Refusal.
 */
export function comparableSet(folder: string, sharedFolder: string): Comparable {
  const sets = setsToTry(readSetFiles(folder, sharedFolder));
  const { pieces, content, drawnUnits } = withAllPieces(sets);
  // An error in a seam may be what somebody compares two sets for, so it is no obstacle. A piece that
  // cannot be read is.
  const unread = sets.find((set) => {
    return set.pieces.length + set.absent.size < Object.keys(content.pieces).length;
  });
  if (unread !== undefined) refuseErrors(unread.findings);
  const { pieces: _, ...whole } = content;
  return {
    kind: 'set',
    items: pieces.flatMap((piece) => pieceItems(piece, content.drawn)),
    words: { ...flatWords(whole), [unitsWord]: drawnUnits.join(' and ') },
    texts: pieces.flatMap(({ name, notes, forAll }) =>
      (forAll?.notes.map(({ note }) => note) ?? notes).flatMap((note) =>
        note.kind === 'text' ? [`${name}: ${note.text}`] : [],
      ),
    ),
  };
}

function pieceItems(piece: Piece, drawn: Hand): Item[] {
  const { name, entry, pile, other } = piece;
  const { outline, when, details } = drawnForAll(piece);
  const item: Item = {
    label: name,
    what: 'piece',
    side: drawnSide(entry, drawn),
    outline,
    details,
    rank: null,
    words: {
      ...flatWords(entry),
      ...(when.length === 0 ? {} : { 'first outline': conditionSuffix(when).slice(1) }),
    },
    // A line that is turned about lies in the same place, so its direction is compared besides.
    ...(pile === null ? {} : { pileDeg: directionDeg(pile) }),
    sheet: name,
  };
  if (other === null) return [item];
  return [
    item,
    ...pieceItems(other, drawn).map((one) => ({ ...one, label: `${name}, other half` })),
  ];
}

/**
 * The outline of a piece and everything else on it, whatever the options are. Of several outlines the first
 * is taken, and the others are among the rest.
 */
function drawnForAll({ outline, features, pile, axis, forAll }: Piece): {
  outline: Path;
  when: Conditions;
  details: Detail[];
} {
  const line = (role: string, ends: Piece['pile']): Detail[] =>
    ends === null ? [] : [{ role, path: polyline([ends.from, ends.to], false) }];
  const ends = [
    ...line('PILE', pile),
    ...line('AXIS', axis).map((one) => standardAxis({ ...one, isAxis: true })),
  ];
  if (forAll === null) {
    return { outline, when: [], details: [...features.map(featureDetail), ...ends] };
  }
  const first = forAll.features.find(({ role }) => role === 'OUTLINE')!;
  // PILE and AXIS lines that are always there are compared as on other pieces.
  const others = forAll.features.filter(
    (one) => one !== first && (!['PILE', 'AXIS'].includes(one.role) || one.when.length > 0),
  );
  const isOptional = (role: string): boolean => others.some((one) => one.role === role);
  return {
    outline: first.path,
    when: first.when,
    details: [...others.map(featureDetail), ...ends.filter(({ role }) => !isOptional(role))],
  };
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

function featureDetail(feature: Feature): Detail {
  const { name, path } = feature;
  return { role: layerName(feature), ...(name === null ? {} : { name }), path };
}

function directionDeg({ from, to }: NonNullable<Piece['pile']>): number {
  return headingDeg({ x: to.x - from.x, y: to.y - from.y });
}
