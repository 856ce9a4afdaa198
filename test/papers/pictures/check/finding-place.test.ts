import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../../src/base/findings.ts';
import { distance } from '../../../../src/geometry/paths/point.ts';
import { polyline } from '../../../../src/geometry/paths/path.ts';
import { compose, transformPoint } from '../../../../src/geometry/paths/transform.ts';
import { centrelineMirror, vehicleFrame } from '../../../../src/handing/frame.ts';
import { positionsOf } from '../../../../src/handing/sides.ts';
import {
  nearestLandmark,
  placeOnPiece,
} from '../../../../src/papers/pictures/check/finding-place.ts';
import { hands } from '../../../../src/pattern/words.ts';
import { feature, line, oblong, piece } from '../../../handing/fixtures.ts';
import { randomSet } from '../../../handing/random-set.ts';

function finding(where: Finding['where']): Finding {
  return { severity: 'error', rule: 'rule', message: 'wrong.', todo: 'Mend it.', where };
}

const partNamed = (name: string, side: string | null): string =>
  side === null ? name : `${name}-${side}`;

describe('placeOnPiece', () => {
  it('leaves what is found on a drawing where it is', () => {
    const mat = piece('mat', { side: 'pair', drawnSide: 'left', at: [7, 8] }, oblong(0, 0, 9, 9));
    expect(placeOnPiece(finding({ piece: 'mat', at: { x: 3, y: 4 } }), mat, 'RHD')).toEqual({
      x: 3,
      y: 4,
    });
    expect(placeOnPiece(finding({ piece: 'mat', part: 'mat-left' }), mat, 'RHD')).toBeNull();
  });

  it('brings a corner of a part back to the corner that was drawn, whatever its side and hand', () => {
    let brought = 0;
    fc.assert(
      fc.property(randomSet, fc.constantFrom(...hands), fc.nat(), (set, hand, nth) => {
        for (const one of set.pieces) {
          const corners = one.outline.vertices;
          const corner = corners[nth % corners.length]!;
          for (const { side, mirrored } of positionsOf(one.entry, set.content.drawn, hand)) {
            // Of a centre piece nothing tells the hand: see below.
            if (side === null && one.entry.outline === 'driver') continue;
            const frame = vehicleFrame(one);
            const placed = mirrored ? compose(centrelineMirror, frame) : frame;
            const where = {
              piece: one.name,
              part: partNamed(one.name, side),
              at: transformPoint(placed, corner),
            };
            const back = placeOnPiece(finding(where), one, set.content.drawn)!;
            brought++;
            expect(distance(back, corner)).toBeLessThan(1e-6);
          }
        }
      }),
    );
    expect(brought).toBeGreaterThan(100);
  });

  it('tells the hand of a centre piece by what is drawn there', () => {
    const dash = piece('dash', { outline: 'driver' }, oblong(-300, 0, 500, 100), [
      feature('NOTCH', polyline([{ x: 120, y: 0 }], false)),
    ]);
    const at = (x: number, y: number): unknown =>
      placeOnPiece(finding({ piece: 'dash', part: 'dash', at: { x, y } }), dash, 'RHD');
    // An end of the outline, as drawn and as derived.
    expect(at(500, 50)).toEqual({ x: 500, y: 50 });
    expect(at(-500, 50)).toEqual({ x: 500, y: 50 });
    // On the outline either way: the notch tells.
    expect(at(120, 0)).toEqual({ x: 120, y: 0 });
    expect(at(-120, 0)).toEqual({ x: 120, y: 0 });
  });

  it('knows pads, boards and copies by their side too', () => {
    const mat = piece('mat-left', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 300, 100));
    for (const part of ['mat-left-pad-left', 'mat-left-left-2', 'mat-left-board-left']) {
      const where = { piece: 'mat-left', part, at: { x: -300, y: 0 } };
      expect(placeOnPiece(finding(where), mat, 'RHD')).toEqual({ x: 300, y: 0 });
    }
    const right = { piece: 'mat-left', part: 'mat-left-right', at: { x: 300, y: 0 } };
    expect(placeOnPiece(finding(right), mat, 'RHD')).toEqual({ x: 300, y: 0 });
  });
});

describe('nearestLandmark', () => {
  const door = { ...feature('BOUND', line(0, 0, 400, 0)), name: 'door' };
  const mat = piece('mat', {}, oblong(0, 0, 400, 300), [
    door,
    feature('SEAM', line(400, 0, 400, 300)),
    feature('TUCK', line(0, 300, 400, 300)),
    feature('TUCK', line(0, 0, 0, 300)),
    feature('HOLE', oblong(190, 2, 210, 22), 'DRIVER'),
    feature('HOLE', polyline([{ x: 200, y: 250 }], false)),
  ]);
  const words = (x: number, y: number, said?: string): unknown =>
    nearestLandmark(mat, { x, y }, said)?.words;

  it('names an edge by its name, else by its role, and says where there are several', () => {
    expect(words(100, 5)).toBe('edge "door"');
    expect(words(395, 150)).toBe('the SEAM edge');
    expect(words(100, 290)).toBe('a TUCK edge');
  });

  it('names anything else by its layer, a point too', () => {
    expect(words(200, 30)).toBe('the HOLE-DRIVER');
    expect(words(200, 240)).toBe('the HOLE');
  });

  it('takes the edge where both are as near', () => {
    expect(words(200, 1)).toBe('edge "door"');
  });

  it('says how far off it is, and nothing of what is too far', () => {
    expect(nearestLandmark(mat, { x: 100, y: 30 })?.distance).toBe(30);
    expect(nearestLandmark(mat, { x: 100, y: -101 })).toBeNull();
  });

  it('passes over what was said already', () => {
    expect(words(100, 5, 'the raw edge "door" is bare.')).toBe('the HOLE-DRIVER');
    expect(words(395, 150, 'this SEAM strays.')).toBeUndefined();
  });
});
