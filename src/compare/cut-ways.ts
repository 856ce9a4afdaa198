import { measurePath, nearestPlace } from '../geometry/measuring/measured-path.ts';
import type { Box } from '../geometry/paths/box.ts';
import { boxOfPoints, centreOf, growBox } from '../geometry/paths/box.ts';
import type { Path } from '../geometry/paths/path.ts';
import { boxOfPath, segmentsOf } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { pointAt, segmentLength } from '../geometry/paths/segment.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, transformPath } from '../geometry/paths/transform.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import type { Difference } from './difference.ts';
import { difference, wordLength, wordPoint } from './difference.ts';
import type { ProgramStroke } from './strokes.ts';

/** A machine as far as its cuts leave the outline, as its profile says it. */
type Blade = Pick<RunRecord['cutter'], 'blade' | 'program'>;

/** What two ways may be apart for rounding and for a trailing tip that swings in behind its axis, mm. */
const swing = 0.1;
/** What the cuts of machines may be apart of which nothing but their programs is known, mm. */
export const unknownBlades = 1;

/**
 * How far apart the cuts of two machines of the same shape may be, mm: short lines leave their arcs, and a blade stops as
 * much short of a corner as it leans in the thickness (mm) of the material.
 */
export function betweenBlades(before: Blade, after: Blade, thickness: number): number {
  const chord = ({ program: { arcs } }: Blade): number => (arcs === 'exact' ? 0 : arcs.chordError);
  const lean = (deg: number): number => thickness * Math.tan((deg * Math.PI) / 180);
  const leans = (['leanFrontDeg', 'leanRearDeg'] as const).map((key) =>
    Math.abs(lean(before.blade[key]) - lean(after.blade[key])),
  );
  return swing + chord(before) + chord(after) + Math.max(...leans);
}

/** Strokes under one note: all that is cut of one thing. */
type Ways = ReadonlyMap<string, readonly Path[]>;

/**
 * What two programs cut otherwise, whatever machines they are for: the ways of the tip under each note, held against
 * each other. It does not matter where a way begins, how often the knife is lifted and what is cut twice. `carried`:
 * the motion that takes what is under a note from its old place to its new one; null: it is not looked at.
 */
export function cutDifferences(
  before: readonly ProgramStroke[],
  after: readonly ProgramStroke[],
  tolerance: number,
  sheet: string | null,
  carried: (note: string) => Transform | null = () => identity,
): Difference[] {
  const [old, young] = [waysOf(before), waysOf(after)];
  const both = [...new Set([...old.keys(), ...young.keys()])];
  return both.flatMap((note): Difference[] => {
    const motion = carried(note);
    if (motion === null) return [];
    const was = (old.get(note) ?? []).map((path) => transformPath(motion, path));
    const is = young.get(note) ?? [];
    const subject = { sheet, label: note };
    if (was.length === 0)
      return [difference('outline', subject, 'is cut now; it was not.', at(is))];
    if (is.length === 0)
      return [difference('outline', subject, 'was cut; it is not now.', at(was))];
    if (sameWays(was, is, tolerance)) return [];
    const worst = [furthest(is, was), furthest(was, is)].sort((a, b) => b.off - a.off)[0]!;
    if (worst.off <= tolerance) return [];
    const words = `is cut otherwise: ${wordLength(worst.off)} off at most, at ${wordPoint(worst.at)}.`;
    const reach = growBox(boxOfPoints([worst.at]), Math.max(20, 4 * worst.off));
    return [
      difference('outline', subject, words, {
        at: worst.at,
        distance: worst.off,
        reach,
        cause: 'cut otherwise',
      }),
    ];
  });
}

/** The ways under each note. Marks and cuts in waste follow from the machine and have no part. */
function waysOf(strokes: readonly ProgramStroke[]): Ways {
  const found = new Map<string, Path[]>();
  for (const { note, way } of strokes) {
    if (note === null || !/ (?:outline|inner|notch)$/i.test(note.text)) continue;
    found.set(note.text, [...(found.get(note.text) ?? []), way]);
  }
  return found;
}

/** The same ways in the same order, corner by corner: a quick test that most pass. */
function sameWays(before: readonly Path[], after: readonly Path[], tolerance: number): boolean {
  return (
    before.length === after.length &&
    before.every(({ vertices }, i) => {
      const others = after[i]!.vertices;
      return (
        vertices.length === others.length &&
        vertices.every((v, k) => {
          const w = others[k]!;
          const length = Math.hypot(v.x - w.x, v.y - w.y);
          return length <= tolerance / 2 && Math.abs(v.bulge - w.bulge) <= 1e-6;
        })
      );
    })
  );
}

/**
 * The strokes under notes of which the ways differ from those of some others. The programs of single bites cut what the
 * whole program cuts: only where they do not must they be looked at by themselves.
 */
export function strokesBesides(
  strokes: readonly ProgramStroke[],
  others: readonly ProgramStroke[],
  tolerance: number,
): Set<string> {
  const [own, whole] = [waysOf(strokes), waysOf(others)];
  return new Set(
    [...own].flatMap(([note, ways]) =>
      sameWays(ways, whole.get(note) ?? [], tolerance) ? [] : [note],
    ),
  );
}

function at(paths: readonly Path[]): { at: Point } {
  return { at: centreOf(boxOfPath(paths[0]!)) };
}

/** Places of a way are looked at that are no further apart than this, mm, with every corner and the middle of every arc. */
const spacing = 8;

/** The place of some ways that is furthest from all of some others. */
function furthest(from: readonly Path[], to: readonly Path[]): { off: number; at: Point } {
  const others = to.map((path) => ({
    measured: measurePath(path),
    box: boxOfPath(path),
    guess: 0,
  }));
  let worst: { off: number; at: Point } = { off: -1, at: pointsOn(from[0]!)[0]! };
  for (const point of from.flatMap(pointsOn)) {
    let off = Infinity;
    for (const other of others) {
      if (awayFrom(other.box, point) >= off) continue;
      const nearest = nearestPlace(other.measured, point, other.guess);
      if (nearest.distance < off) {
        off = nearest.distance;
        other.guess = nearest.station.segment;
      }
      if (off <= worst.off) break;
    }
    if (off > worst.off) worst = { off, at: point };
  }
  return worst;
}

/** How far a point is from a box, mm; 0 inside. */
function awayFrom({ minX, minY, maxX, maxY }: Box, { x, y }: Point): number {
  return Math.hypot(Math.max(minX - x, x - maxX, 0), Math.max(minY - y, y - maxY, 0));
}

function pointsOn(path: Path): Point[] {
  const points = segmentsOf(path).flatMap((segment) => {
    const least = segment.bulge === 0 ? 1 : 2;
    const pieces = Math.max(least, Math.ceil(segmentLength(segment) / spacing));
    return Array.from({ length: pieces }, (_, k) => pointAt(segment, k / pieces));
  });
  const { x, y } = path.vertices.at(-1)!;
  return [...points, { x, y }];
}
