import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/base/findings.ts';
import { wordFinding } from '../../../src/base/findings.ts';
import {
  reflection,
  transformPath,
  transformPoint,
} from '../../../src/geometry/paths/transform.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import type { Follows } from '../../../src/pattern/layers.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { DrawnLine } from '../../../src/pattern/feature.ts';
import type { PatternSet } from '../../../src/pattern/set.ts';
import type { Hand, Side } from '../../../src/pattern/words.ts';
import { otherSide } from '../../../src/pattern/words.ts';
import { materials, order, patternSet, tape } from '../fixtures.ts';
import type { Brief, Case } from './cases.ts';
import { cases } from './cases.ts';

function setOf({ pieces, sheet, binding = {} }: Case): PatternSet {
  const set = patternSet('RHD', pieces, sheet);
  return { ...set, binding: binding === null ? null : { ...tape, ...binding } };
}

function findingsOf(set: PatternSet, hand: Hand, { options, material }: Case): readonly Finding[] {
  const stock = new Map([
    ...materials,
    ['carpet', { ...materials.get('carpet')!, ...material }] as const,
  ]);
  return deriveParts(set, order(hand, options), stock).findings;
}

function brief({ rule, where: { piece, part, at } }: Finding): Brief {
  const round = (value: number): number => Math.round(value * 100) / 100 + 0;
  const place = at === undefined ? [] : [`${round(at.x)},${round(at.y)}`];
  return [rule, ...[part ?? piece ?? []].flat(), ...place].join(' ');
}

describe('what is wrong with parts', () => {
  it.each(cases.map((one) => [one.name, one] as const))('%s', (_, one) => {
    const found = findingsOf(setOf(one), one.hand ?? 'RHD', one);
    expect(found.map(brief).sort()).toEqual([...one.found].sort());
  });

  it('names the drawing', () => {
    const one = cases.find(({ found }) => found[0]?.startsWith('bridge') === true)!;
    expect(findingsOf(setOf(one), 'RHD', one)[0]!.where).toMatchObject({
      file: 'test.dxf',
      piece: 'a',
      part: 'a-left',
    });
  });

  it('names the hand in which a part is so', () => {
    const one = cases.find(({ name }) => name.startsWith('a driver’s cutout that the other hand'))!;
    const [finding] = findingsOf(setOf(one), 'LHD', one);
    expect(wordFinding(finding!)).toMatch(
      /piece floor, part floor, in LHD, at -320.0, 150.0 in the vehicle: a CUTOUT and a CUTOUT overlap/,
    );
  });

  it('an edge that a seam names and that is not there is told at its line, with those there are', () => {
    const one = cases.find(({ found }) => found[0]?.startsWith('seam-edge') === true)!;
    const [finding] = findingsOf(setOf(one), 'RHD', one);
    expect(finding!.where.file).toBe('set.yaml');
    expect(finding!.todo).toContain('one without a name');
  });
});

const mirror = reflection({ x: 0, y: 0 }, 90);

function mirroredSet(set: PatternSet): PatternSet {
  const pieces = set.pieces.map(mirroredPiece);
  const sheets = Object.fromEntries(pieces.map(({ name, entry }) => [name, entry]));
  return { ...set, pieces, content: { ...set.content, drawn: 'LHD', pieces: sheets } };
}

function mirroredPiece(piece: Piece): Piece {
  const { entry } = piece;
  const { side, drawnSide, only } = entry;
  return {
    ...piece,
    entry: {
      ...entry,
      at: [-entry.at[0], entry.at[1]],
      side: side === 'left' || side === 'right' ? otherSide(side) : side,
      ...(drawnSide === undefined ? {} : { drawnSide: otherSide(drawnSide) }),
      ...(only === undefined ? {} : { only: otherHand(only) }),
    },
    outline: transformPath(mirror, piece.outline),
    features: piece.features.map((feature) => ({
      ...feature,
      follows: mirroredFollows(feature.follows),
      path: transformPath(mirror, feature.path),
    })),
    axis: piece.axis === null ? null : mirroredLine(piece.axis),
    pile: piece.pile === null ? null : mirroredLine(piece.pile),
  };
}

function mirroredLine({ from, to }: DrawnLine): DrawnLine {
  return { from: transformPoint(mirror, from), to: transformPoint(mirror, to) };
}

function mirroredFollows(follows: Follows | null): Follows | null {
  const swapped: Partial<Record<Follows, Follows>> = { LEFT: 'RIGHT', RIGHT: 'LEFT' };
  return follows === null ? null : (swapped[follows] ?? follows);
}

function otherHand(hand: Hand): Hand {
  return hand === 'RHD' ? 'LHD' : 'RHD';
}

/** The rule and the part it is about, seen in the mirror. */
function mirroredBrief(one: Brief): string {
  const swap = (word: string): string => (/left|right/.test(word) ? otherSide(word as Side) : word);
  const [rule, part = ''] = one.split(' ');
  return `${rule!} ${part.split('-').map(swap).join('-')}`;
}

describe('the law of the mirror', () => {
  // Two labels are alike only because one of the pieces is called after a side.
  const mirrorable = cases.filter(({ name }) => !name.includes('one label'));
  it.each(mirrorable.map((one) => [one.name, one] as const))(
    'the mirrored set breaks the same rules: %s',
    (_, one) => {
      const found = findingsOf(mirroredSet(setOf(one)), otherHand(one.hand ?? 'RHD'), one);
      const briefs = found.map((finding) => brief(finding).split(' ').slice(0, 2).join(' '));
      const expected = one.found.map(mirroredBrief).map((words) => words.trim());
      expect(briefs.sort()).toEqual(expected.sort());
    },
  );
});
