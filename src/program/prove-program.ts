import type { Finding } from '../findings.ts';
import { boxContains, boxOfPath } from '../geometry/box.ts';
import { boxIndex } from '../geometry/box-index.ts';
import { placeInPath } from '../geometry/contains.ts';
import { pathLength } from '../geometry/path.ts';
import type { Cutter } from '../knife/cutter.ts';
import { bitesOf } from '../lay/bites.ts';
import type { Program } from './actions.ts';
import type { Coverage } from './coverage.ts';
import { coverageOf, onContour, strokeLength } from './coverage.ts';
import type { ExpectedCut, ExpectedPart } from './expected.ts';
import { expectedCuts } from './expected.ts';
import { fault } from './faults.ts';
import { nameOf } from './prove-dxf.ts';
import { proveHeadings } from './prove-heading.ts';
import { proveFeeds, proveTravel } from './prove-travel.ts';
import type { LayRecord } from './run-record.ts';
import type { Stroke, Trace } from './trace.ts';
import { traceProgram } from './trace.ts';

/** mm that strokes of a contour may be longer than contour and overlap before it counts as cut twice. */
const cutTwice = 1;

/**
 * Holds a cutting program against the parts of the run: the way of the tip, traced from the text
 * alone, covers every contour and notch and nothing else, inside before outside, with the knife up
 * in between.
 */
export function proveProgram(
  program: Program,
  parts: readonly ExpectedPart[],
  lay: LayRecord,
  cutter: Cutter,
): Finding[] {
  const { file } = program;
  if (program.units !== 'mm') {
    return [fault('units', 'the program is in inches (G20); the run is in mm.', { file })];
  }
  const trace = traceProgram(program, cutter);
  return [
    ...proveTravel(program, cutter),
    ...proveHeadings(program, cutter),
    ...proveFeeds(trace.feeds, biteStarts(parts, lay), file),
    ...swivelFaults(trace, file),
    ...proveCuts(trace.strokes, parts, cutter, file),
  ];
}

/** Where the bed begins in each bite, mm from the roll's start. */
export function biteStarts(parts: readonly ExpectedPart[], lay: LayRecord): number[] {
  const reaches = parts.map(({ outline }) => boxOfPath(outline));
  return bitesOf(reaches, lay.biteLength ?? Infinity).map(({ start }) => start);
}

/** The tip of a trailing knife held shallow must not go anywhere: it would scratch. */
function swivelFaults({ swivels }: Trace, file: string): Finding[] {
  return swivels
    .filter((swivel) => strokeLength(swivel) > onContour)
    .map(({ steps }) => {
      const { line, segment } = steps[0]!;
      return fault('swivel', 'the knife is dragged along at swivel depth.', {
        file,
        line,
        at: segment.from,
      });
    });
}

function proveCuts(
  strokes: readonly Stroke[],
  parts: readonly ExpectedPart[],
  cutter: Cutter,
  file: string,
): Finding[] {
  const cuts = parts.flatMap(expectedCuts);
  const coverage = coverageOf(strokes, cuts);
  return [
    ...astrayFaults(coverage, file),
    ...uncutFaults(coverage, cuts, file),
    ...twiceFaults(coverage, strokes, cuts, cutter, file),
    ...orderFaults(coverage, strokes, cuts, file),
  ];
}

function astrayFaults({ astray }: Coverage, file: string): Finding[] {
  return astray.flatMap((place) => {
    if (place === undefined) return [];
    const message = 'the knife cuts where no single contour or notch is.';
    return [fault('extra-cut', message, { file, line: place.line, at: place.point })];
  });
}

function uncutFaults({ uncut }: Coverage, cuts: readonly ExpectedCut[], file: string): Finding[] {
  return uncut.flatMap((at, i) => {
    if (at === undefined) return [];
    const { label, kind } = cuts[i]!;
    return [
      fault('missing-cut', `${nameOf(kind)} of the part is not cut all along.`, {
        file,
        part: label,
        at,
      }),
    ];
  });
}

function twiceFaults(
  coverage: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
  cutter: Cutter,
  file: string,
): Finding[] {
  return cuts.flatMap(({ label, kind, path }, cut) => {
    const own = soleStrokes(coverage, cut).map((i) => strokes[i]!);
    const length = own.reduce((sum, stroke) => sum + strokeLength(stroke), 0);
    if (length <= pathLength(path) + cutter.closingOverlap + cutTwice) return [];
    const message = `${nameOf(kind)} of the part is cut more than once.`;
    return [fault('cut-twice', message, { file, line: own.at(-1)!.steps[0]!.line, part: label })];
  });
}

/** The strokes that cut this path and no other. */
function soleStrokes({ cutsOf, strokesOf }: Coverage, cut: number): number[] {
  return strokesOf[cut]!.filter((stroke) => cutsOf[stroke]!.length === 1);
}

/** Which strokes cut one path and no other: the first and the last of them. */
function spans(
  coverage: Coverage,
  cuts: readonly ExpectedCut[],
): ({ first: number; last: number } | undefined)[] {
  return cuts.map((_, cut) => {
    const own = soleStrokes(coverage, cut);
    return own.length === 0 ? undefined : { first: own[0]!, last: own.at(-1)! };
  });
}

/** What lies inside a closed contour is cut before it: then nothing is cut in carpet that is loose. */
function orderFaults(
  coverage: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
  file: string,
): Finding[] {
  const span = spans(coverage, cuts);
  const boxes = cuts.map(({ path }) => boxOfPath(path));
  const near = boxIndex(boxes);
  return cuts.flatMap((outer, o) =>
    near(boxes[o]!).flatMap((i) => {
      const inner = cuts[i]!;
      const outside = span[o];
      const inside = span[i];
      if (outside === undefined || inside === undefined || inside.last < outside.first) return [];
      if (!mustComeFirst(inner, outer) || !boxContains(boxes[o]!, boxes[i]!)) return [];
      if (inner.label !== outer.label && !liesInside(inner, outer)) return [];
      const { line, segment } = strokes[inside.last]!.steps[0]!;
      const message = `${nameOf(outer.kind)} of ${outer.label} is cut before ${nameOf(inner.kind)} of the part is done.`;
      return [fault('order', message, { file, line, part: inner.label, at: segment.from })];
    }),
  );
}

/** Whether the second waits for the first where that lies inside it. */
function mustComeFirst(inner: ExpectedCut, outer: ExpectedCut): boolean {
  if (inner === outer || outer.kind === 'notch') return false;
  if (inner.label === outer.label) return outer.kind === 'outline' && inner.kind !== 'outline';
  return inner.kind === 'outline';
}

function liesInside(inner: ExpectedCut, outer: ExpectedCut): boolean {
  return inner.path.vertices.every((vertex) => placeInPath(outer.path, vertex) === 'inside');
}
