import type { Finding } from '../../base/findings.ts';
import { boxContains } from '../../geometry/paths/box.ts';
import { boxOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { distance } from '../../geometry/paths/point.ts';
import { boxOfSegment } from '../../geometry/paths/segment.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { BladeReach } from '../../knife/strokes/overcut.ts';
import { bladeReach } from '../../knife/strokes/overcut.ts';
import { shortestNotch } from '../../knife/strokes/strokes.ts';
import type { Program } from '../reading/actions.ts';
import type { Coverage } from './coverage.ts';
import { coverageOf, onContour, strokeLength } from './coverage.ts';
import type { ExpectedCut, ExpectedPart } from '../record/expected.ts';
import { expectedCuts } from '../record/expected.ts';
import { fault } from './faults.ts';
import { wordCut } from './prove-dxf.ts';
import { endFaults } from './prove-ends.ts';
import { proveHeadings } from './prove-heading.ts';
import type { BladeCut } from './prove-overcut.ts';
import { bladeCut, mayBeUncut, neededStretch, overcutFaults } from './prove-overcut.ts';
import { proveForm } from './prove-form.ts';
import { proveHead } from './prove-head.ts';
import { announcedFaults, noteFaults } from './prove-notes.ts';
import { provePunches } from './prove-punches.ts';
import { isSameWork } from './same-work.ts';
import { proveFeeds, proveTravel } from './prove-travel.ts';
import { markCuts, proveChecks, proveWaste, withoutLeadIns } from './prove-waste.ts';
import type { LayRecord, RunRecord } from '../record/run-record.ts';
import type { KnifePlace, Stroke, Trace } from '../reading/trace.ts';
import { traceProgram } from '../reading/trace.ts';
import type { ProgramWork } from '../reading/work.ts';
import { workOf } from '../reading/work.ts';

/**
 * How much longer than contour and overlap the strokes of a contour may be before it counts as cut twice,
 * mm.
 */
const cutTwice = 1;

/** What the programs must do, according to the record. */
export interface Meant {
  readonly run: RunRecord;
  /** That of the run.json that was read. */
  readonly fingerprint: string;
  readonly parts: readonly ExpectedPart[];
  readonly lay: LayRecord;
  readonly cutter: Cutter;
}

/** A program, and how far the roll had been fed before it, mm. */
interface Fed {
  readonly program: Program;
  readonly fed: number;
  /** Its number, if it cuts one bite alone, from 1. */
  readonly bite?: number;
  /** What it does, if that is known already. */
  readonly trace?: Trace;
  readonly work?: ProgramWork;
}

/**
 * Faults of a cutting program, compared with the parts of the lay. The way of the tip is found from the
 * text alone. It must cover every contour and notch and nothing else. No blade must cut past a corner
 * into what is kept. What is inside is cut before what is outside. Holes are punched, and the knife is up
 * in between.
 */
export function proveProgram(program: Program, meant: Meant): ProvenProgram {
  const starts = meant.lay.bites.map(({ start }) => start).filter((start) => start > 0);
  const trace = traceProgram(program, meant.cutter);
  const { own } = proveForm(program, meant.cutter);
  const work = workOf(program, trace, meant.cutter, own);
  const findings = [
    ...proveWaste(meant.parts, meant.lay, meant.cutter, program.file),
    ...proveTogether([{ program, fed: 0, trace, work }], [starts], meant),
  ];
  return { findings, trace, work };
}

/** What was found in a whole program, and what it does. */
interface ProvenProgram {
  readonly findings: Finding[];
  readonly trace: Trace;
  readonly work: ProgramWork;
}

/**
 * The same faults for the programs of single bites, which together must do what the whole program does.
 * `proven` is what the whole program does if nothing was found in it. Programs that cut and punch the same as that
 * one are not compared with the parts again.
 */
export function proveBites(
  programs: readonly Program[],
  meant: Meant,
  proven: Trace | undefined,
): Finding[] {
  const runs = programs.map((program, i) => ({
    program,
    fed: meant.lay.bites[i]!.start,
    bite: i + 1,
  }));
  return proveTogether(
    runs,
    runs.map(() => []),
    meant,
    proven,
  );
}

/**
 * `feeds`: for each program, to which places it must feed the roll. `proven`: the trace of a program that
 * is right.
 */
function proveTogether(
  runs: readonly Fed[],
  feeds: readonly (readonly number[])[],
  meant: Meant,
  proven?: Trace,
): Finding[] {
  const { cutter, lay } = meant;
  const units = cutter.program.units === 'mm' ? 'mm' : 'in';
  const stranger = runs.find(({ program }) => program.units !== units);
  if (stranger !== undefined) {
    const { file, units: own } = stranger.program;
    return [fault('units', `the program is in ${own}; the cutter takes ${units}.`, { file })];
  }
  const traces = runs.map(({ program, fed, trace }) => trace ?? traceProgram(program, cutter, fed));
  const { file } = runs[0]!.program;
  const all = traces.flatMap(({ strokes }) => strokes);
  const { strokes, findings } = withoutLeadIns(all, lay, cutter, file);
  return [
    ...runs.flatMap(({ program, bite, work }, i) => [
      ...proveWritten(program, traces[i]!, meant, bite, work),
      ...proveHeadings(program, cutter),
      ...proveFeeds(traces[i]!.feeds, feeds[i]!, program.file),
      ...swivelFaults(traces[i]!),
    ]),
    ...findings,
    ...proveChecks(
      traces.flatMap(({ checks }) => checks),
      all,
      lay,
      file,
    ),
    ...(proven !== undefined && isSameWork(traces, proven)
      ? []
      : proveCuts(
          strokes,
          traces.flatMap(({ punches }) => punches),
          meant,
          file,
        )),
  ];
}

/** Faults of the form, the head, the notes and the way of one cutting program. */
function proveWritten(
  program: Program,
  trace: Trace,
  { run, fingerprint, lay, parts, cutter }: Meant,
  bite: number | undefined,
  known: ProgramWork | undefined,
): Finding[] {
  const { own, findings } = proveForm(program, cutter);
  const work = known ?? workOf(program, trace, cutter, own);
  const head = { run, fingerprint, lay, kind: 'cut' as const, work };
  return [
    ...findings,
    ...proveHead(program, bite === undefined ? head : { ...head, bite }),
    ...noteFaults(program, parts, cutter, own),
    ...proveTravel(program, cutter, own),
  ];
}

/**
 * Faults if the tip of a trailing knife moves while it is held shallow to swivel: it would scratch the
 * material.
 */
function swivelFaults({ swivels }: Trace): Finding[] {
  return swivels
    .filter(({ steps }) => {
      const { from } = steps[0]!.segment;
      return steps.some(({ segment }) => distance(from, segment.to) > onContour);
    })
    .map(({ file, steps }) => {
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
  punches: readonly KnifePlace[],
  { parts, lay, cutter }: Meant,
  file: string,
): Finding[] {
  const reach = bladeReach(cutter, lay.thickness);
  const cuts = [...parts.flatMap(expectedCuts), ...markCuts(lay)]
    .map((cut) => bladeCut(cut, cutter))
    .filter((cut) => isStroked(cut, reach));
  const coverage = coverageOf(
    strokes,
    cuts.map((cut) => ({
      ...cut,
      needed: (along: number) => !mayBeUncut(cut, along, reach),
      neededOf: (segment: number) => neededStretch(cut, segment, reach),
    })),
  );
  const span = spans(coverage, strokes, cuts);
  const freed = new Map(
    cuts.flatMap(({ label, kind }, i): [string, Stroke][] =>
      kind === 'outline' && span[i] !== undefined ? [[label, strokes[span[i].first]!]] : [],
    ),
  );
  return [
    ...astrayFaults(coverage, strokes),
    ...announcedFaults(coverage, strokes, cuts),
    ...uncutFaults(coverage, cuts, file),
    ...twiceFaults(coverage, strokes, cuts, lay, cutter),
    ...orderFaults(span, strokes, cuts),
    ...provePunches(punches, parts, freed, file),
    ...overcutFaults(coverage, strokes, cuts, cutter, lay.thickness),
    ...endFaults(coverage, strokes, cuts, cutter, lay.thickness),
  ];
}

/**
 * Whether a cut is made by strokes. Holes are punched, and notches that are too short for the blade are
 * not cut.
 */
function isStroked({ kind, measured }: BladeCut, { front, rear }: BladeReach): boolean {
  if (kind === 'notch') return measured.length - front.upper - rear.under >= shortestNotch;
  return kind !== 'punch';
}

function astrayFaults({ astray }: Coverage, strokes: readonly Stroke[]): Finding[] {
  return astray.flatMap((place, i) => {
    if (place === undefined) return [];
    const { file } = strokes[i]!;
    const message = 'the knife cuts where no single contour or notch is.';
    return [fault('extra-cut', message, { file, line: place.line, at: place.point })];
  });
}

function uncutFaults({ uncut }: Coverage, cuts: readonly ExpectedCut[], file: string): Finding[] {
  return uncut.flatMap((at, i) => {
    if (at === undefined) return [];
    const { label, kind } = cuts[i]!;
    return [
      fault('missing-cut', `${wordCut(kind)} of the part is not cut all along.`, {
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
  cuts: readonly BladeCut[],
  lay: LayRecord,
  { closingOverlap }: Cutter,
): Finding[] {
  return cuts.flatMap(({ label, kind, path, measured }, cut) => {
    const own = soleStrokes(coverage, cut).map((i) => strokes[i]!);
    const length = own.reduce((sum, stroke) => sum + strokeLength(stroke), 0);
    const joins = (lay.joinOverlap ?? 0) * joinsOf(path, own, lay);
    if (length <= measured.length + closingOverlap + joins + cutTwice) return [];
    const message = `${wordCut(kind)} of the part is cut more than once.`;
    const { file, steps } = own.at(-1)!;
    return [fault('cut-twice', message, { file, line: steps[0]!.line, part: label })];
  });
}

/**
 * How often a contour that is cut in several bites may be joined. Every join lies between the line where
 * the next bite begins and the end of the bed, so there is one for each time that the contour crosses
 * such a line.
 */
function joinsOf(path: Path, own: readonly Stroke[], { bites }: LayRecord): number {
  const fed = new Set(own.map((stroke) => Math.round(stroke.fed)));
  if (fed.size < 2) return 0;
  const starts = bites.map(({ start }) => start).slice(1);
  return segmentsOf(path).reduce((sum, segment) => {
    const { minX, maxX } = boxOfSegment(segment);
    return sum + starts.filter((start) => minX <= start && start < maxX).length;
  }, 0);
}

/** The strokes that lie on this cut and no other. */
function soleStrokes({ cutsOf, strokesOf }: Coverage, cut: number): number[] {
  return strokesOf[cut]!.filter((stroke) => cutsOf[stroke]!.length === 1);
}

interface Span {
  readonly first: number;
  readonly last: number;
}

/**
 * For each cut, among the strokes that lie on it alone: the last one, and the first one in the same bite.
 * There the contour comes free.
 */
function spans(
  coverage: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
): (Span | undefined)[] {
  return cuts.map((_, cut) => {
    const own = soleStrokes(coverage, cut);
    const last = own.at(-1);
    if (last === undefined) return undefined;
    return { first: own.find((i) => strokes[i]!.fed === strokes[last]!.fed)!, last };
  });
}

/** Faults if something inside a closed contour is cut after it, in material that is loose. */
function orderFaults(
  span: readonly (Span | undefined)[],
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
): Finding[] {
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
      const { file, steps } = strokes[inside.last]!;
      const { line, segment } = steps[0]!;
      const message = `${wordCut(outer.kind)} of ${outer.label} is cut before ${wordCut(inner.kind)} of the part is done.`;
      return [fault('order', message, { file, line, part: inner.label, at: segment.from })];
    }),
  );
}

/** Whether a contour must be cut before another one if it lies inside that one. */
function mustComeFirst(inner: ExpectedCut, outer: ExpectedCut): boolean {
  if (inner === outer || outer.kind === 'notch' || outer.kind === 'mark') return false;
  if (inner.label === outer.label) return outer.kind === 'outline' && inner.kind !== 'outline';
  return inner.kind === 'outline';
}

function liesInside(inner: ExpectedCut, outer: ExpectedCut): boolean {
  return inner.path.vertices.every((vertex) => placeInPath(outer.path, vertex) === 'inside');
}
