import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Change } from '../../handing/redrawing/changes.ts';
import type { Feature } from '../../pattern/feature.ts';
import { decimal } from '../../base/numbers.ts';
import { csvText } from './csv.ts';

export interface ChangesTable {
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/**
 * One row for each piece and feature: first those that have moved, then the others, each in the order of
 * the set file. `from` and `to` say where it lies for the two hands: its side of the vehicle, and its
 * middle in mm to the right and forward in the vehicle's frame. A dash: it does not exist there.
 */
export function changesTable(changes: readonly Change[]): ChangesTable {
  const pieces = [...new Set(changes.map(({ piece }) => piece))];
  const ordered = changes.toSorted(
    (a, b) =>
      Number(b.moved) - Number(a.moved) || pieces.indexOf(a.piece) - pieces.indexOf(b.piece),
  );
  return {
    header: ['piece', 'feature', 'follows', 'from', 'to', 'why'],
    rows: ordered.map(rowOf),
  };
}

function rowOf({ piece, feature, before, after, moved, why }: Change): string[] {
  const [from, to] = [placesWords(before), placesWords(after)];
  return [
    piece.name,
    feature === null ? 'outline' : featureWords(feature),
    feature?.follows ?? nothing,
    from,
    // What lies across the centreline is mirrored in its place.
    moved && from === to ? `${to}, mirrored` : to,
    why,
  ];
}

/** The table as CSV. `options`: what is chosen of the set, in words; empty: it has no options. */
export function changesCsv(changes: readonly Change[], options: string): string {
  const { header, rows } = changesTable(changes);
  const table = [header, ...rows];
  if (options === '') return csvText(table);
  return csvText(table.map((row, i) => [...row, i === 0 ? 'options' : options]));
}

const nothing = '-';

/** A thing whose middle is nearer to the centreline than this (mm) lies on neither side. */
const onCentreline = 0.5;

function featureWords({ role, name }: Feature): string {
  return name === null ? role : `${role} ${name}`;
}

function placesWords(paths: readonly Path[]): string {
  return paths.length === 0 ? nothing : paths.map(placeWords).join(' and ');
}

function placeWords(path: Path): string {
  const { x, y } = centreOf(boxOfPath(path));
  const side = Math.abs(x) < onCentreline ? 'centre' : x < 0 ? 'left' : 'right';
  return `${side} ${decimal(x, 1)}, ${decimal(y, 1)}`;
}
