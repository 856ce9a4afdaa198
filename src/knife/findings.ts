import type { Finding } from '../base/findings.ts';
import { counted } from '../base/wording.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Part } from '../handing/part.ts';
import type { Material } from '../pattern/shop/material.ts';
import { leftToBench, sameRadius, smallestRadius } from './cuttable.ts';
import type { Cutter } from './cutter.ts';
import { cutContours, shortNotches, wedgeCorners, wedgeOf } from './left-work.ts';
import { bladeReach } from './strokes/overcut.ts';
import { shortestNotch } from './strokes/strokes.ts';

/**
 * What the knife of a cutter cannot do on these parts, or not as drawn: contours and notches that are
 * left to the bench, corners that stay uncut below, and curves too tight for the blade. Each cause is one
 * finding, with all its parts. `thicknessOf` gives the thickness of a material, mm.
 */
export function knifeFindings(
  parts: readonly Part[],
  cutter: Cutter,
  thicknessOf: (material: string) => number,
): Finding[] {
  const thickness = ({ material }: Part): number => thicknessOf(material);
  return [
    ...benchFindings(parts, cutter),
    ...notchFindings(parts, cutter, thickness),
    ...wedgeFindings(parts, cutter, thickness),
    ...tightFindings(parts, cutter),
  ];
}

/** What is said of one of the parts of a finding. `at`: a place in its frame, if one tells it best. */
interface Told {
  readonly part: Part;
  readonly words: string;
  readonly at?: Point;
}

/** Each part and what is said of it, those of one name once. */
function listOf(told: readonly Told[]): string[] {
  return [...new Set(told.map(({ part, words }) => `${part.name} (${words})`))];
}

/**
 * A warning about one cause on several parts. Parts of one name in other orders are told once. Nothing is
 * found if there are none.
 */
function onParts(
  rule: string,
  told: readonly Told[],
  message: (list: string) => string,
  todo: string,
): Finding[] {
  const [first] = told;
  if (first === undefined) return [];
  const list = listOf(told);
  const { part, at } = first;
  const where =
    list.length > 1
      ? {}
      : { piece: part.piece, part: part.name, ...(at === undefined ? {} : { at }) };
  return [{ severity: 'warning', rule, message: message(list.join(', ')), todo, where }];
}

function benchFindings(parts: readonly Part[], cutter: Cutter): Finding[] {
  const told = parts.flatMap((part) =>
    leftToBench(part, cutter).map(({ role, at, width, height, radius }) => ({
      part,
      at,
      words: `a ${role === 'HOLE' ? 'hole' : 'cutout'} of ${width.toFixed(1)} x ${height.toFixed(1)} mm, radius ${radius.toFixed(1)} mm`,
    })),
  );
  return onParts(
    'left-to-bench',
    told,
    (list) =>
      `the knife of ${cutter.name} goes down to a radius of ${cutter.blade.smallestRadius} mm, which is too wide for ${list}.`,
    'They are marked, not cut: punch them or cut them by hand, where the labels ring them.',
  );
}

function notchFindings(
  parts: readonly Part[],
  cutter: Cutter,
  thickness: (part: Part) => number,
): Finding[] {
  const told = parts.flatMap((part) => {
    const short = shortNotches(part, cutter, thickness(part));
    const [first] = short;
    if (first === undefined) return [];
    return [{ part, at: first.from, words: `${short.length} of ${part.notches.length}` }];
  });
  return onParts(
    'short-notch',
    told,
    (list) =>
      `these notches are not cut, because the blade of ${cutter.name} leans, and stopped where its upper end reaches their depth it would cut less than ${shortestNotch} mm: ${list}.`,
    'Cut them by hand where the labels ring them, or make notchDepth of the material deeper.',
  );
}

/** How long the wedge is depends on the thickness, so parts are listed by it. */
function wedgeFindings(
  parts: readonly Part[],
  cutter: Cutter,
  thicknessOf: (part: Part) => number,
): Finding[] {
  const told = parts.flatMap((part) => {
    const thickness = thicknessOf(part);
    const corners = wedgeCorners(part, cutter, thickness);
    const [at] = corners;
    if (at === undefined) return [];
    return [{ part, at, thickness, words: counted(corners.length, 'corner') }];
  });
  const thicknesses = [...new Set(told.map(({ thickness }) => thickness))];
  const lists = thicknesses.map((thickness) => {
    const { before, after } = wedgeOf(cutter, thickness);
    const own = listOf(told.filter((one) => one.thickness === thickness));
    return `In parts of ${thickness} mm the wedge is ${before.toFixed(1)} mm long before each and ${after.toFixed(1)} mm after it: ${own.join(', ')}.`;
  });
  return onParts(
    'uncut-wedge',
    told,
    () =>
      `the blade of ${cutter.name} leans: so that it does not cut into the part, it leaves a wedge uncut below at inside corners. ${lists.join(' ')}`,
    `Cut those corners free by hand, from the ${cutter.face === 'up' ? 'back' : 'face'}, where the labels ring them.`,
  );
}

/**
 * A warning for curves that are tighter than the blade can follow. A tangential knife is lifted and
 * turned along them.
 */
function tightFindings(parts: readonly Part[], cutter: Cutter): Finding[] {
  const { blade, knife, name } = cutter;
  const isStepped = knife.kind === 'tangential';
  const told = parts.flatMap((part) =>
    cutContours(part, cutter).flatMap(([kind, path]) => {
      const radius = smallestRadius(path);
      if (radius >= blade.smallestRadius - sameRadius) return [];
      // The middle of the blade is on the circle, of radius R. The ends of a blade of width w are then
      // sqrt(R^2 + (w/2)^2) - R outside it.
      const error = Math.hypot(radius, blade.width / 2) - radius;
      const what = kind === 'outline' ? 'outline' : 'cutout';
      return [
        { part, words: `${what}, radius ${radius.toFixed(1)} mm, left by ${error.toFixed(1)} mm` },
      ];
    }),
  );
  return onParts(
    isStepped ? 'lifted-steps' : 'tight-outline',
    told,
    (list) =>
      `the knife of ${name} follows a radius of ${blade.smallestRadius} mm truly; the ends of its blade leave tighter curves: ${list}.`,
    isStepped
      ? 'They are cut in steps, the knife lifted between: look at those curves on the first part.'
      : 'They are cut all the same: look at those curves on the first part.',
  );
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
