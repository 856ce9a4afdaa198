import { describe, expect, it } from 'vitest';
import { deriveParts } from '../../../src/handing/derive.ts';
import type { Part } from '../../../src/handing/part.ts';
import { neverProduced } from '../../../src/handing/rules/never-produced.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import { hands } from '../../../src/pattern/words.ts';
import { feature, materials, oblong, order, patternSet, piece } from '../fixtures.ts';

const shape = oblong(100, 0, 500, 300);
const pad = feature('PAD', oblong(200, 100, 300, 200), 'DRIVER');

function partsOfAll(pieces: readonly Piece[]): Part[] {
  return hands.flatMap((hand) =>
    (['driver', 'both', 'none'] as const).flatMap(
      (heelPads) =>
        deriveParts(patternSet('RHD', pieces), order(hand, { heelPads }), materials).parts,
    ),
  );
}

function found(one: Piece): string[] {
  return neverProduced(patternSet('RHD', [one]), partsOfAll([one])).map(({ message }) => message);
}

describe('what no order can bring', () => {
  it('a heel pad for the driver on the left, on a piece for right-hand drive only', () => {
    expect(found(piece('mat', { side: 'left', only: 'RHD', pad: 'rubber' }, shape, [pad]))).toEqual(
      ['the pad of the piece "mat" is cut in no hand and with no option.'],
    );
  });

  it.each(['left', 'pair', 'centre', 'driver'] as const)(
    'nothing of a %s piece that some hand has a pad for',
    (side) => {
      const sheet = { side, drawnSide: 'right' as const, pad: 'rubber' };
      expect(found(piece('mat', sheet, shape, [pad]))).toEqual([]);
    },
  );

  it('a piece, its board and its underlay of which there is no part', () => {
    const board = { material: 'board', inset: 0 };
    const one = piece('mat', { board, underlay: board }, shape);
    const names = neverProduced(patternSet('RHD', [one]), []).map(({ message }) => message);
    expect(names).toEqual(
      ['the piece "mat"', 'the board of the piece "mat"', 'the underlay of the piece "mat"'].map(
        (what) => `${what} is cut in no hand and with no option.`,
      ),
    );
  });
});
