import { expect, it } from 'vitest';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { sidesOfEdges } from '../../../src/handing/edges/edge-sides.ts';
import type { Edge } from '../../../src/handing/part.ts';

/** Edges along points, counter-clockwise round their part. */
function along(...points: [number, number][]): Edge[] {
  const path = polyline(
    points.map(([x, y]) => ({ x, y })),
    false,
  );
  return [{ kind: 'tuck', name: null, path, onShow: false }];
}

it('a short side beside a long one is named too: whoever fits it tucks every edge', () => {
  // The right side, 220 mm, then the front, 1240 mm, then the left: each is tucked.
  const edges = along([640, 0], [640, 220], [-600, 220], [-600, 0]);
  expect(sidesOfEdges(edges, null)).toEqual(['front', 'left', 'right']);
});

it('a small slant at the end of a side is not one', () => {
  expect(sidesOfEdges(along([600, 0], [620, 20], [620, 500]), null)).toEqual(['right']);
});

it('on the side of the vehicle, left and right are outer and inner', () => {
  expect(sidesOfEdges(along([100, 0], [100, 300]), 'right')).toEqual(['outer']);
  expect(sidesOfEdges(along([100, 0], [100, 300]), 'left')).toEqual(['inner']);
});
