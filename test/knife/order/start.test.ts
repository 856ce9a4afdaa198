import { describe, expect, it } from 'vitest';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, pathOf, polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import { pointAt } from '../../../src/geometry/paths/segment.ts';
import type { Edge } from '../../../src/handing/part.ts';
import { allowedStarts, begunAt } from '../../../src/knife/order/start.ts';
import { edgesOf, point, rectangle, roundedRectangle } from '../sample-parts.ts';

/** Sides of a rectangle: 0 below, 1 right, 2 above, 3 left. */
const net = rectangle(200, 100);
/** The cut contour of a tuck of 30 mm on the left: only that side is moved. */
const withTuck = rectangle(230, 100, -30, 0);

function starts(contour: Path, edges: readonly Edge[]): number[][] {
  return allowedStarts(contour, edges).map(({ segment, t }) => {
    const { x, y } = pointAt(segmentsOf(contour)[segment]!, t);
    return [x, y];
  });
}

describe('an outline', () => {
  it('begins at a corner where a stretch out of sight begins', () => {
    expect(
      starts(
        withTuck,
        edgesOf(net, (side) => side !== 3),
      ),
    ).toEqual([[-30, 100]]);
    expect(
      starts(
        net,
        edgesOf(net, (side) => side !== 3 && side !== 1),
      ),
    ).toEqual([
      [200, 0],
      [0, 100],
    ]);
  });

  it('begins in the middle of the longest stretch out of sight where no corner begins one', () => {
    const smooth = roundedRectangle(200, 100, 20);
    const hidden = polyline([point(150, 100), point(50, 100)], false);
    const edges = [
      ...edgesOf(smooth, () => true).filter((_, side) => side !== 4),
      { kind: 'tuck' as const, name: null, path: hidden, onShow: false },
    ];
    expect(starts(smooth, edges)).toEqual([[100, 100]]);
    const begun = begunAt(smooth, allowedStarts(smooth, edges)[0]!);
    expect(begun.vertices[0]).toMatchObject({ x: 100, y: 100 });
    expect(segmentsOf(begun).length).toBe(9);
  });

  it('that is all on show begins at any corner', () => {
    expect(starts(net, edgesOf(net))).toHaveLength(4);
    // Its arcs meet its sides without a corner, so that any vertex must do.
    expect(starts(roundedRectangle(200, 100, 20), [])).toHaveLength(8);
  });

  it('that has neither corners nor hidden edges begins at a vertex', () => {
    expect(starts(circle(point(0, 0), 50), [])).toEqual([
      [50, 0],
      [-50, 0],
    ]);
  });

  it('is the same curve wherever it begins', () => {
    const begun = begunAt(net, { segment: 2, t: 0 });
    expect(begun.vertices.map(({ x, y }) => [x, y])).toEqual([
      [200, 100],
      [0, 100],
      [0, 0],
      [200, 0],
    ]);
    expect(pathOf(segmentsOf(begun), true)).toEqual(begun);
  });
});
