import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cornerNear,
  measurePath,
  nearestPlace,
  placeAlong,
  stationLength,
  stretchAlong,
} from '../../../src/geometry/measuring/measured-path.ts';
import { nearestOnPath } from '../../../src/geometry/measuring/nearest.ts';
import { alongPath, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { lengthAt, stretchOf } from '../../../src/geometry/paths/stretch.ts';
import { outline } from '../arbitrary.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });

const some = fc.oneof(fc.integer({ min: -500, max: 500 }), fc.integer({ min: -9, max: 9 }));

/** What a measured path answers is what the functions that walk the whole path answer. */
describe('a measured path', () => {
  it('has the path’s length', () => {
    fc.assert(
      fc.property(outline, (path) => {
        expect(measurePath(path).length).toBeCloseTo(pathLength(path), 9);
      }),
    );
  });

  it('finds the place at a length, and the length at a place', () => {
    fc.assert(
      fc.property(outline, share, (path, at) => {
        const measured = measurePath(path);
        const length = at * measured.length;
        const { point: p, station, tangent } = placeAlong(measured, length);
        const walked = alongPath(path, length);
        expect(Math.hypot(p.x - walked.point.x, p.y - walked.point.y)).toBeLessThan(1e-9);
        expect(tangent.x ** 2 + tangent.y ** 2).toBeCloseTo(1, 9);
        expect(stationLength(measured, station)).toBeCloseTo(length, 9);
        expect(lengthAt(path, station)).toBeCloseTo(length, 9);
      }),
    );
  });

  it('finds the nearest place, whatever was guessed', () => {
    fc.assert(
      fc.property(outline, some, some, fc.nat(4), (path, right, up, guess) => {
        const measured = measurePath(path);
        // From a corner to a long way off, inside and out.
        const on = path.vertices[0]!;
        const p = { x: on.x + right, y: on.y + up };
        const found = nearestPlace(measured, p, guess);
        const walked = nearestOnPath(path, p);
        expect(Math.abs(found.distance - walked.distance)).toBeLessThan(1e-6);
        const { x, y } = walked.point;
        expect(Math.hypot(found.point.x - x, found.point.y - y)).toBeLessThan(3e-6);
        const apart = Math.abs(
          stationLength(measured, found.station) - lengthAt(path, walked.station),
        );
        // The end of the outline is its start.
        expect(Math.min(apart, Math.abs(measured.length - apart))).toBeLessThan(1e-5);
      }),
      { numRuns: 500 },
    );
  });

  it('takes a place at the end of a side for the start of the next', () => {
    fc.assert(
      fc.property(outline, fc.nat(4), fc.nat(4), ({ vertices }, corner, guess) => {
        const measured = measurePath(polyline(vertices, true));
        const { station, distance } = nearestPlace(measured, vertices[corner]!, guess);
        expect(station).toEqual({ segment: corner, t: 0 });
        expect(distance).toBe(0);
      }),
    );
  });

  it('gives the stretch between two lengths', () => {
    fc.assert(
      fc.property(outline, share, share, (path, a, b) => {
        const measured = measurePath(path);
        const [from, to] = [a * measured.length, b * measured.length];
        const found = stretchAlong(measured, from, to).vertices;
        const walked = stretchOf(path, from, to).vertices;
        expect(found.length).toBe(walked.length);
        for (const [i, { x, y, bulge }] of found.entries()) {
          expect(Math.hypot(x - walked[i]!.x, y - walked[i]!.y)).toBeLessThan(1e-9);
          expect(bulge).toBeCloseTo(walked[i]!.bulge, 9);
        }
      }),
    );
  });

  it('knows the nearest corner along it', () => {
    fc.assert(
      fc.property(outline, share, (path, at) => {
        const measured = measurePath(path);
        const length = at * measured.length;
        const all = [...measured.starts].map((start) => Math.abs(start - length));
        expect(Math.abs(cornerNear(measured, length) - length)).toBe(Math.min(...all));
      }),
    );
  });
});
