import type { Finding } from '../base/findings.ts';
import { measurePath, placeAlong } from '../geometry/measuring/measured-path.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathLength } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Part } from '../handing/part.ts';
import type { Material } from '../pattern/shop/material.ts';
import { sharpCorners, sharpestTurn } from './strokes/corners.ts';
import type { CutKind } from './cuts.ts';
import { leftToBench, sameRadius, smallestRadius, treatmentOf } from './cuttable.ts';
import type { Cutter } from './cutter.ts';
import { notchCuts } from './order/notch-cuts.ts';
import { bladeReach } from './strokes/overcut.ts';
import { shortestNotch } from './strokes/strokes.ts';

/**
 * What the knife of a cutter cannot do on these parts, or not as drawn: contours and notches that are
 * left to the bench, corners that stay uncut below, and curves too tight for the blade. `thicknessOf`
 * gives the thickness of a material, mm.
 */
export function knifeFindings(
  parts: readonly Part[],
  cutter: Cutter,
  thicknessOf: (material: string) => number,
): Finding[] {
  return parts.flatMap((part) => {
    const thickness = thicknessOf(part.material);
    const contours: [kind: CutKind, path: Path][] = [
      ['outline', part.cut],
      ...part.inner
        .filter((inner) => treatmentOf(inner, cutter) === 'cut')
        .map(({ path }): [CutKind, Path] => ['inner', path]),
    ];
    return [
      ...benchFindings(part, cutter),
      ...notchFindings(part, cutter, thickness),
      ...contours.flatMap(([kind, path]) => [
        ...wedgeFindings(part, kind, path, cutter, thickness),
        ...tightFindings(part, kind, path, cutter),
      ]),
    ];
  });
}

function benchFindings(part: Part, cutter: Cutter): Finding[] {
  return leftToBench(part, cutter).map(({ role, at, width, height, radius }) => ({
    severity: 'warning',
    rule: 'left-to-bench',
    message: `a ${role === 'HOLE' ? 'hole' : 'cutout'} of ${width.toFixed(1)} x ${height.toFixed(1)} mm has a radius of ${radius.toFixed(1)} mm; the knife of ${cutter.name} goes down to ${cutter.blade.smallestRadius} mm.`,
    todo: 'It is marked, not cut: punch it or cut it by hand.',
    where: { piece: part.piece, part: part.name, at },
  }));
}

/**
 * A warning for notches that are too short for a leaning blade. So as not to cut the upper side too far,
 * it must stop so early that it cuts almost nothing.
 */
function notchFindings(part: Part, cutter: Cutter, thickness: number): Finding[] {
  const { front, rear } = bladeReach(cutter, thickness);
  const short = part.notches.filter((notch) =>
    notchCuts(notch, cutter).some(
      (path) => pathLength(path) - front.upper - rear.under < shortestNotch,
    ),
  );
  const [first] = short;
  if (first === undefined) return [];
  return [
    {
      severity: 'warning',
      rule: 'short-notch',
      message: `${short.length} of ${part.notches.length} notches are not cut: the blade of ${cutter.name} leans, and stopped where its upper end reaches their depth it would cut less than ${shortestNotch} mm.`,
      todo: 'Cut them by hand where the drawing shows them, or make notchDepth of the material deeper.',
      where: { piece: part.piece, part: part.name, at: first.from },
    },
  ];
}

/** A message names at most so many places. */
const namedPlaces = 4;

/**
 * A warning for inside corners. A leaning blade must stop short of them, so a part of the underside stays
 * uncut there.
 */
function wedgeFindings(
  part: Part,
  kind: CutKind,
  path: Path,
  cutter: Cutter,
  thickness: number,
): Finding[] {
  const { front, rear } = bladeReach(cutter, thickness);
  const [before, after] = [front.upper - front.under, rear.upper - rear.under];
  if (before + after === 0) return [];
  const measured = measurePath(path);
  const places = sharpCorners(measured, kind, sharpestTurn(cutter))
    .filter(({ inside }) => inside)
    .map(({ along }) => placeAlong(measured, along).point);
  const [first] = places;
  if (first === undefined) return [];
  const named = places.slice(0, namedPlaces).map(inWords).join(', ');
  const more = places.length > namedPlaces ? ` and ${places.length - namedPlaces} more` : '';
  return [
    {
      severity: 'warning',
      rule: 'uncut-wedge',
      message: `${kind === 'outline' ? 'the outline' : 'a cutout'} has ${places.length} inside corner${places.length === 1 ? '' : 's'}, at ${named}${more}: so that the leaning blade does not cut into the part, a wedge stays uncut below, ${before.toFixed(1)} mm long before the corner and ${after.toFixed(1)} mm after it.`,
      todo: `Cut those corners free by hand, from the ${cutter.face === 'up' ? 'back' : 'face'}.`,
      where: { piece: part.piece, part: part.name, at: first },
    },
  ];
}

function inWords({ x, y }: Point): string {
  return `${x.toFixed(0)},${y.toFixed(0)}`;
}

/**
 * A warning for curves that are tighter than the blade can follow. A tangential knife is lifted and
 * turned along them.
 */
function tightFindings(part: Part, kind: CutKind, path: Path, cutter: Cutter): Finding[] {
  const radius = smallestRadius(path);
  const { blade, knife, name } = cutter;
  if (radius >= blade.smallestRadius - sameRadius) return [];
  // The middle of the blade is on the circle, of radius R. The ends of a blade of width w are then
  // sqrt(R^2 + (w/2)^2) - R outside it.
  const error = Math.hypot(radius, blade.width / 2) - radius;
  const isStepped = knife.kind === 'tangential';
  return [
    {
      severity: 'warning',
      rule: isStepped ? 'lifted-steps' : 'tight-outline',
      message: `${kind === 'outline' ? 'the outline' : 'a cutout'} has a radius of ${radius.toFixed(1)} mm; the knife of ${name} follows ${blade.smallestRadius} mm truly. The ends of the blade leave that curve by ${error.toFixed(1)} mm.`,
      todo: isStepped
        ? 'It is cut in steps, the knife lifted between: look at that curve on the first part.'
        : 'It is cut all the same: look at that curve on the first part.',
      where: { piece: part.piece, part: part.name },
    },
  ];
}

/**
 * Errors if a cutter does not suit a material: when up, the knife must clear it; while it swivels, the
 * tip must be in it; and a leaning blade must not cut further than the gap between parts.
 */
export function heightFindings(
  cutter: Cutter,
  material: Pick<Material, 'name' | 'thickness' | 'gap'>,
): Finding[] {
  const { name, thickness, gap } = material;
  const { knife, heights } = cutter;
  const found: Finding[] = [];
  if (heights.travel <= thickness) {
    found.push({
      severity: 'error',
      rule: 'travel-height',
      message: `${cutter.name} travels at Z ${heights.travel}, but ${name} is ${thickness} mm thick: the raised knife would drag through it.`,
      todo: `Set heights.travel of the cutter above ${thickness} mm.`,
      where: {},
    });
  }
  if (knife.kind === 'trailing' && knife.swivelDepth >= thickness) {
    found.push({
      severity: 'error',
      rule: 'swivel-depth',
      message: `${cutter.name} swivels its tip at Z ${knife.swivelDepth}, above ${name} of ${thickness} mm: nothing would hold the tip.`,
      todo: `Set knife.swivelDepth of the cutter below ${thickness} mm.`,
      where: {},
    });
  }
  const { front, rear } = bladeReach(cutter, thickness);
  const reach = Math.max(front.upper, rear.upper);
  if (reach > gap) {
    found.push({
      severity: 'error',
      rule: 'overcut-gap',
      message: `the blade of ${cutter.name} leans, and cuts ${name} above ${reach.toFixed(1)} mm past a corner; the gap between parts is ${gap} mm: it would cut into the next part.`,
      todo: `Set gap of ${name} to at least ${Math.ceil(reach)}, or take a blade that stands steeper.`,
      where: {},
    });
  }
  return found;
}
