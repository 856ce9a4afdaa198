import { describe, expect, it } from 'vitest';
import { circle, pathOf, polyline, segmentsOf } from '../../src/geometry/path.ts';
import { begunNear, begunOutOfSight } from '../../src/knife/start.ts';
import { edgesOf, point, rectangle, roundedRectangle } from './sample-parts.ts';

/** Sides of a rectangle: 0 below, 1 right, 2 above, 3 left. */
const net = rectangle(200, 100);
/** The cut contour of a tuck of 30 mm on the left: only that side is moved. */
const withTuck = rectangle(230, 100, -30, 0);

describe('an outline', () => {
  it('begins at the corner where a stretch out of sight begins, near the knife or not', () => {
    const edges = edgesOf(net, (side) => side !== 3);
    for (const knife of [point(200, 0), point(-30, 0), point(-30, 100)]) {
      expect(begunOutOfSight(withTuck, edges, knife).vertices[0]).toMatchObject({ x: -30, y: 100 });
    }
  });

  it('begins at the nearest of several such corners', () => {
    const edges = edgesOf(net, (side) => side !== 3 && side !== 1);
    expect(begunOutOfSight(net, edges, point(190, 90)).vertices[0]).toMatchObject({ x: 200, y: 0 });
    expect(begunOutOfSight(net, edges, point(0, 80)).vertices[0]).toMatchObject({ x: 0, y: 100 });
  });

  it('begins in the middle of the longest stretch out of sight where no corner begins one', () => {
    const smooth = roundedRectangle(200, 100, 20);
    const hidden = polyline([point(150, 100), point(50, 100)], false);
    const edges = [
      ...edgesOf(smooth, () => true).filter((_, side) => side !== 4),
      { kind: 'tuck' as const, name: null, path: hidden, onShow: false },
    ];
    const begun = begunOutOfSight(smooth, edges, point(0, 0));
    expect(begun.vertices[0]).toMatchObject({ x: 100, y: 100 });
    expect(segmentsOf(begun).length).toBe(9);
  });

  it('that is all on show begins at the nearest corner', () => {
    expect(begunOutOfSight(net, edgesOf(net), point(190, 90)).vertices[0]).toMatchObject({
      x: 200,
      y: 100,
    });
  });

  it('that has neither corners nor hidden edges begins at a vertex', () => {
    const round = circle(point(0, 0), 50);
    expect(begunOutOfSight(round, [], point(-60, 0)).vertices[0]).toMatchObject({ x: -50, y: 0 });
  });

  it('is the same curve wherever it begins', () => {
    const begun = begunNear(net, point(200, 100));
    expect(begun.vertices.map(({ x, y }) => [x, y])).toEqual([
      [200, 100],
      [0, 100],
      [0, 0],
      [200, 0],
    ]);
    expect(pathOf(segmentsOf(begun), true)).toEqual(begun);
  });
});
