import type { Finding } from '../../base/findings.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { sayable } from '../reading/comments.ts';
import type { Program } from '../reading/actions.ts';
import type { HeadSentence, HeadSubject } from '../reading/heading.ts';
import { readHead } from '../reading/heading.ts';
import type { ProgramWork } from '../reading/work.ts';
import type { LayRecord, RunRecord } from '../record/run-record.ts';
import { recordedName } from '../record/run-record.ts';
import { fault } from './faults.ts';

/** What the head of a program must be about. */
export interface HeadMeant {
  readonly run: RunRecord;
  /** That of the run.json that lies in the folder. */
  readonly fingerprint: string;
  readonly lay: LayRecord;
  readonly kind: 'cut' | 'dry';
  /** The number of the bite that the program cuts alone, from 1. */
  readonly bite?: number;
  /** What the cutting program does; the dry program says the same. Left out: it could not be read. */
  readonly work?: ProgramWork;
}

/** A number that may be this far from what was meant, for rounding. */
interface About {
  readonly is: number;
  readonly within: number;
}

/** A sentence that the head must have. A value of null may be anything. */
interface Said {
  readonly subject: HeadSubject;
  readonly values: readonly (string | About | null)[];
}

/**
 * Faults if what the operator reads at the head of a program does not agree with the record, or with the
 * moves of the program: the run and its fingerprint, material, cutter, bite, face, roll, sizes, knife,
 * unit, reach and cautions. A sentence that is not one of these is a fault too, because nobody can say
 * whether it is true.
 */
export function proveHead(program: Program, meant: HeadMeant): Finding[] {
  const { file } = program;
  const { sentences, strange } = readHead(program);
  const expected = expectedHead(meant);
  const findings = strange.map(({ line, text }) =>
    fault('head', `the head has "${text}", which no program of this product says there.`, {
      file,
      line,
    }),
  );
  for (const { subject, values } of expected) {
    const found = sentences.filter((one) => one.subject === subject);
    if (found[0] === undefined) {
      findings.push(
        fault('head', `the head does not say ${subjects[subject]}.`, { file, line: 1 }),
      );
      continue;
    }
    findings.push(...valueFaults(found[0], values, file));
    findings.push(
      ...found
        .slice(1)
        .map(({ line }) =>
          fault('head', `the head says ${subjects[subject]} a second time.`, { file, line }),
        ),
    );
  }
  const wanted = expected.map(({ subject }) => subject);
  const strangers = sentences.filter(({ subject }) => !wanted.includes(subject));
  findings.push(
    ...strangers.map(({ line, text }) =>
      fault('head', `the head says "${text}", which does not hold for this program.`, {
        file,
        line,
      }),
    ),
  );
  if (findings.length > 0) return findings;
  const wrong = sentences.findIndex(({ subject }, i) => subject !== wanted[i]);
  if (wrong === -1) return [];
  const { line, subject } = sentences[wrong]!;
  const message = `the head says ${subjects[subject]} where ${subjects[wanted[wrong]!]} must stand.`;
  return [fault('head', message, { file, line })];
}

/** What each sentence says, in words that follow "the head says". */
const subjects: Readonly<Record<HeadSubject, string>> = {
  run: 'for which run, material and cutter it is',
  dry: 'that it is the dry program',
  cut: 'that it cuts',
  bite: 'which bite it cuts and how far the roll must lie fed',
  up: 'which side of the roll lies up',
  down: 'which side of the roll lies on the bed',
  roll: 'how wide the roll is, how much is needed and which way its pile leans',
  lay: 'how many parts and bites there are, and how long it takes',
  trailing: 'which knife it takes',
  tangential: 'which knife it takes',
  turnTrue: 'how to turn the knife before the start',
  turnByEye: 'how to turn the knife before the start',
  heading: 'where heading 0 of the knife is',
  units: 'where zero is, and its unit',
  arcs: 'how far lines may leave their arcs',
  reachMm: 'how far it reaches in mm',
  reachInches: 'how far it reaches in inches',
  noSafety: 'that it is no safety function',
  guards: 'that guards must be closed',
  isolate: 'that the machine must be isolated first',
  rules: 'which rules come first',
};

function expectedHead(meant: HeadMeant): Said[] {
  const { run, fingerprint, lay, kind, bite, work } = meant;
  const { cutter } = run;
  const once = (subject: HeadSubject, word: string): Said => ({ subject, values: [word] });
  return [
    {
      subject: 'run',
      values: [
        run.run,
        fingerprint,
        run.recutOf?.run ?? '',
        recordedName(lay),
        about(lay.thickness, 2),
        cutter.name,
      ],
    },
    kind === 'dry' ? once('dry', 'DRY PROGRAM') : once('cut', 'CUTTING PROGRAM'),
    ...(bite === undefined ? [] : [biteSaid(lay, bite)]),
    ...faceSaid(run, lay),
    { subject: 'lay', values: layValues(lay, bite, work) },
    ...knifeSaid(cutter),
    once('units', cutter.program.units === 'mm' ? 'Millimetres' : 'Inches'),
    ...(cutter.program.arcs === 'exact'
      ? []
      : [{ subject: 'arcs' as const, values: [about(cutter.program.arcs.chordError, 3)] }]),
    ...reachSaid(work, cutter),
    once('noSafety', 'CAUTION'),
    once('guards', 'Guards closed'),
    once('isolate', 'Stop and isolate'),
    once('rules', 'The rules'),
  ];
}

/**
 * Which side of the roll lies up, and which way its pile leans. Only carpet has a pile; it leans unless parts may be
 * turned as they fit. Felt and boards are cut from the side that meets the carpet, rubber from the one that is seen.
 */
function faceSaid({ cutter, materials }: RunRecord, lay: LayRecord): Said[] {
  const material = materials.find(({ name }) => name === lay.material);
  const leans = material?.kind === 'carpet' && material.turns !== 'any';
  const isSeen = material?.kind === 'carpet' || material?.kind === 'rubber';
  const side = leans
    ? 'pile'
    : isSeen
      ? 'side that will be seen'
      : 'side that goes against the carpet';
  const size = [about(lay.rollWidth, 6), about(centimetresUp(lay.length), 3)];
  return [
    cutter.face === 'up'
      ? { subject: 'up', values: ['FACE UP', `the ${side}`] }
      : { subject: 'down', values: ['FACE DOWN', `the ${side}`] },
    { subject: 'roll', values: [...size, leans ? 'pile leaning towards X plus' : ''] },
  ];
}

/** A number that is said with so many decimals. */
function about(is: number, decimals: number): About {
  return { is, within: 0.5 * 10 ** -decimals + 1e-6 };
}

/** A length in mm as metres, rounded up to centimetres. */
function centimetresUp(length: number): number {
  return Math.ceil(length / 10 - 1e-9) / 100;
}

function biteSaid({ bites }: LayRecord, bite: number): Said {
  const { start } = bites[bite - 1]!;
  const counts = [about(bite, 1), about(bites.length, 1)];
  return { subject: 'bite', values: [...counts, about(start, 3), about(start / inch, 3)] };
}

/**
 * Lengths of moves as read may differ from those that were planned by this share: lines that stand for
 * arcs are shorter than these. 0.4 percent was measured, on parts that are nearly all arcs.
 */
const sameLength = 0.01;

/**
 * So may times, which depend on every corner: slivers of an outline that rounding leaves out are corners
 * that were planned. 6 percent was measured.
 */
const sameTime = 0.1;

function layValues(
  { placements, bites }: LayRecord,
  bite: number | undefined,
  work: ProgramWork | undefined,
): Said['values'] {
  const counts = [about(placements.length, 1), about(bite === undefined ? bites.length : 1, 1)];
  if (work === undefined) return [...counts, null, null, null, null, null];
  const metres = (length: number): About => ({
    is: length / 1000,
    within: 0.051 + (sameLength * length) / 1000,
  });
  return [
    ...counts,
    metres(work.cutLength),
    metres(work.travelLength),
    ...minutesSaid(work.minutes),
  ];
}

/** Hours, minutes, and the 1 of "under 1 min". What may be said either way is left open. */
function minutesSaid(minutes: number): Said['values'] {
  const within = 0.501 + sameTime * minutes;
  if (minutes < 1 - sameTime) return ['', '', '1'];
  if (minutes < 1 + sameTime) return ['', null, null];
  const whole = Math.round(minutes);
  if (whole < 60 - within) return ['', { is: minutes, within }, ''];
  const hours = Math.floor(whole / 60);
  const rest = minutes - 60 * hours;
  if (rest < within || rest > 60 - within) return [null, null, ''];
  return [about(hours, 1), { is: rest, within }, ''];
}

function knifeSaid({ knife, blade, heights }: Cutter): Said[] {
  const size = [about(blade.width, 2), about(-heights.cut, 3)];
  if (knife.kind === 'trailing') {
    const turn = knife.leadIn === undefined ? 'turnTrue' : 'turnByEye';
    return [
      { subject: 'trailing', values: [about(knife.offset, 3), ...size] },
      { subject: turn, values: ['Before the start'] },
    ];
  }
  const how = knife.oscillation === undefined ? 'still' : 'oscillating';
  return [
    { subject: 'tangential', values: [knife.axis.letter, how, ...size] },
    { subject: 'heading', values: [knife.axis.letter] },
  ];
}

/** An inch in mm. */
const inch = 25.4;

/** How much the ends of moves may be rounded, mm. */
const written = 0.002;

function reachSaid(work: ProgramWork | undefined, { program: { arcs } }: Cutter): Said[] {
  if (work === undefined) {
    const open = [null, null, null, null];
    return [
      { subject: 'reachMm', values: open },
      { subject: 'reachInches', values: open },
    ];
  }
  if (work.reach === null) return [];
  const { minX, maxX, minY, maxY } = work.reach;
  // Lines that stand for an arc do not reach as far as it does.
  const off = written + (arcs === 'exact' ? 0 : arcs.chordError);
  const said = (unit: number, decimals: number): About[] =>
    [minX, maxX, minY, maxY].map((mm) => ({
      is: mm / unit,
      within: 0.5 * 10 ** -decimals + off / unit,
    }));
  return [
    { subject: 'reachMm', values: said(1, 1) },
    { subject: 'reachInches', values: said(inch, 3) },
  ];
}

function valueFaults(
  { line, text, values: said, subject }: HeadSentence,
  values: Said['values'],
  file: string,
): Finding[] {
  const wrong = values.findIndex((value, i) => !agrees(said[i]!, value));
  if (wrong === -1) return [];
  const value = values[wrong]!;
  const right = typeof value === 'string' ? `"${value}"` : Number(value.is.toFixed(3)).toString();
  const there = said[wrong] === '' ? 'nothing' : `"${said[wrong]!}"`;
  const message = `the head says ${subjects[subject]}, but ${there} stands where it is ${right}: "${text}".`;
  return [
    fault(subject === 'run' && wrong === 1 ? 'fingerprint' : 'head', message, { file, line }),
  ];
}

function agrees(said: string, value: string | About | null): boolean {
  if (value === null) return true;
  if (typeof value === 'string') return sayable(said) === sayable(value);
  return said !== '' && Math.abs(Number(said) - value.is) <= value.within;
}
