import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDrawingText } from '../drawing/read-text.ts';
import { areaOf, isCounterClockwise } from '../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Change } from '../../src/handing/redrawing/changes.ts';
import { changesOf } from '../../src/handing/redrawing/changes.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import { redrawnPiece } from '../../src/handing/redrawing/redraw.ts';
import { pieceOf } from '../../src/pattern/piece.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import type { Hand } from '../../src/pattern/words.ts';
import { driverSide, hands } from '../../src/pattern/words.ts';
import { writeSetDrawing } from '../../src/pattern/write-set.ts';
import { materials, oblong, order, piece as pieceWith } from './fixtures.ts';
import { randomSet } from './random-set.ts';

const heelPads = ['driver', 'both', 'none'] as const;
const other = (hand: Hand): Hand => (hand === 'RHD' ? 'LHD' : 'RHD');

/** Everything that a set derives to, in all hands and options, as text: equal to the last bit. */
function allParts(set: PatternSet): string {
  const all = hands.flatMap((hand) =>
    heelPads.map((pads) => deriveParts(set, order(hand, { heelPads: pads }), materials).parts),
  );
  return JSON.stringify(all);
}

/** The set drawn anew for a hand, written as DXF and read back. */
function redrawn(set: PatternSet, hand: Hand): PatternSet {
  const { drawn } = set.content;
  const blocks = set.pieces.map((piece) => ({
    name: piece.name.toUpperCase(),
    entities: redrawnPiece(piece, drawn, hand),
  }));
  const drawing = readDrawingText(writeSetDrawing(blocks), 'set.dxf', { setUnits: 'mm' });
  const pieces = set.pieces.map(({ name, entry }) => {
    const block = drawing.blocks.find((one) => one.name === name.toUpperCase())!;
    const read = pieceOf(name, { ...entry, at: [0, 0] }, block.entities, new Map(), 'set.dxf');
    expect(read.findings).toEqual([]);
    return read.piece!;
  });
  return { ...set, pieces, content: { ...set.content, drawn: hand } };
}

function outlines(changes: readonly Change[]): readonly Change[] {
  return changes.filter(({ feature }) => feature === null);
}

/** Mirrored in the centreline it would hardly be elsewhere. */
function isNearItsImage(path: Path): boolean {
  const { minX, maxX } = boxOfPath(path);
  return Math.abs(minX + maxX) < 0.01;
}

/** The handedness table read anew: which rows put something elsewhere for the other hand. */
function mustMove({ piece, feature, before, after }: Change): boolean {
  const { side, outline } = piece.entry;
  const goesAcross =
    side === 'driver' || side === 'passenger' || (side === 'centre' && outline === 'driver');
  if (feature === null) return goesAcross;
  // There for one hand and not for the other.
  if (before.length !== after.length) return true;
  if (before.length === 0) return false;
  switch (feature.follows) {
    case null:
      return goesAcross;
    case 'DRIVER':
    case 'PASSENGER':
      return side !== 'left' && side !== 'right';
    case 'LEFT':
    case 'RIGHT':
      return side === 'driver' || side === 'passenger';
  }
}

const sum = (paths: readonly Path[], of: (path: Path) => number): number =>
  paths.reduce((total, path) => total + of(path), 0);

describe('the laws of handedness, on random sets', () => {
  it('a set drawn anew for the other hand derives to the same parts, in every hand and option', () => {
    fc.assert(
      fc.property(randomSet, (set) => {
        expect(allParts(redrawn(set, other(set.content.drawn)))).toBe(allParts(set));
      }),
    );
  });

  it('drawn anew twice it is the set that was drawn', () => {
    fc.assert(
      fc.property(randomSet, (set) => {
        const once = redrawn(set, set.content.drawn);
        const twice = redrawn(redrawn(set, other(set.content.drawn)), set.content.drawn);
        expect(JSON.stringify(twice.pieces)).toBe(JSON.stringify(once.pieces));
      }),
    );
  });

  it('what is fixed to the body does not move, what follows a person does', () => {
    const seen = { moved: 0, fixed: 0 };
    fc.assert(
      fc.property(randomSet, (set) => {
        const hand = other(set.content.drawn);
        for (const change of changesOf(set, { hand, heelPads: 'driver' })) {
          // Which pads there are, the order says; and a stitch line may be what holds one.
          const isOfPads = ({ role }: { readonly role: string }): boolean => role === 'PAD';
          if (change.feature !== null && isOfPads(change.feature)) continue;
          if (change.feature?.role === 'STITCH' && change.piece.features.some(isOfPads)) continue;
          if (change.before.some(isNearItsImage)) continue;
          seen[change.moved ? 'moved' : 'fixed']++;
          expect({ ...change, moved: mustMove(change) }).toEqual(change);
        }
      }),
    );
    expect(Math.min(seen.moved, seen.fixed)).toBeGreaterThan(10);
  });

  it('the pads of an order for the driver alone lie on the driver’s side', () => {
    let seen = 0;
    fc.assert(
      fc.property(randomSet, fc.constantFrom(...hands), (set, hand) => {
        const { parts } = deriveParts(set, order(hand, { heelPads: 'driver' }), materials);
        for (const pad of parts.filter(({ kind }) => kind === 'pad')) {
          const { minX, maxX } = boxOfPath(pad.net);
          if (minX < 0 && maxX > 0) continue;
          seen++;
          expect(pad.side).toBe(driverSide(hand));
        }
      }),
    );
    expect(seen).toBeGreaterThan(10);
  });

  it('areas, lengths and arcs are kept, and outer contours run counter-clockwise', () => {
    fc.assert(
      fc.property(randomSet, (set) => {
        const changes = outlines(
          changesOf(set, { hand: other(set.content.drawn), heelPads: 'both' }),
        );
        expect(changes).toHaveLength(set.pieces.length);
        for (const { before, after } of changes) {
          expect(sum(after, areaOf) / sum(before, areaOf)).toBeCloseTo(1, 9);
          expect(sum(after, pathLength) / sum(before, pathLength)).toBeCloseTo(1, 9);
          const arcs = ({ vertices }: Path): number => vertices.filter((v) => v.bulge !== 0).length;
          expect(sum(after, arcs)).toBe(sum(before, arcs));
          for (const path of after) expect(isCounterClockwise(path)).toBe(true);
        }
      }),
    );
  });

  it('a pair is one left and one right, never two of one side', () => {
    fc.assert(
      fc.property(randomSet, fc.constantFrom(...hands), (set, hand) => {
        const { parts } = deriveParts(set, order(hand), materials);
        for (const { name, entry } of set.pieces) {
          const own = parts.filter((part) => part.piece === name && part.kind === 'piece');
          const there = own.map(({ side }) => side).sort();
          if (entry.side === 'pair') expect(there).toEqual(['left', 'right']);
          else expect(there).toHaveLength(1);
        }
      }),
    );
  });

  it('the pile leans the same way in both hands', () => {
    fc.assert(
      fc.property(randomSet, (set) => {
        const piles = (hand: Hand): Map<string, number> =>
          new Map(
            deriveParts(set, order(hand), materials).parts.flatMap(({ piece, kind, pileDeg }) =>
              kind === 'piece' ? [[piece, pileDeg!]] : [],
            ),
          );
        expect(piles('RHD').size).toBe(set.pieces.length);
        expect(piles('LHD')).toEqual(piles('RHD'));
      }),
    );
  });
});

describe('what is written on a piece', () => {
  it('comes out upright and with its words as they are, on a mirrored piece too', () => {
    const text = {
      kind: 'text',
      layer: 'NOTE',
      line: 1,
      at: { x: 300, y: 40 },
      height: 20,
    } as const;
    const lid = {
      ...pieceWith('lid', { side: 'driver' }, oblong(200, 0, 400, 100)),
      notes: [{ ...text, text: 'THIS SIDE UP', deg: 15 }],
    };
    for (const hand of hands) {
      const note = redrawnPiece(lid, 'RHD', hand).find(({ kind }) => kind === 'text');
      const x = hand === 'RHD' ? 300 : -300;
      expect(note).toEqual({ ...text, at: { x, y: 40 }, text: 'THIS SIDE UP', deg: 0 });
    }
  });
});
