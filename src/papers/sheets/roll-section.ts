import type { Point } from '../../geometry/paths/point.ts';
import type { Part } from '../../handing/part.ts';
import { leftToBench } from '../../knife/cuttable.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { biteName } from '../../lay/bites.ts';
import type { Roll } from '../../lay/lay.ts';
import { layName } from '../../lay/lay.ts';
import { clothOf, clothSample } from '../../pattern/shop/cloth.ts';
import { faceOf } from '../../pattern/shop/face.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { PaperBlock } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import type { LayLook } from '../pictures/lay/lay-picture.ts';
import { layLegend, layPicture, rowsOf } from '../pictures/lay/lay-picture.ts';
import type { Row } from '../pictures/lay/roll-picture.ts';
import type { MaterialFacts, RunFacts } from '../facts/run-facts.ts';
import { restWords, rollTitle } from '../facts/run-facts.ts';
import { swatchPicture } from '../svg/swatch.ts';
import { clock, duration, metresUp } from '../../base/wording.ts';

/** What the pages about a roll need to know about the run. */
export type SheetFacts = Pick<RunFacts, 'cutter' | 'materials' | 'lengths'>;

/** Pictures so large that three bites of a bed 3.4 m long go on a sheet, with words to their right. mm on paper. */
const bitePicture = { width: 112, margin: 2, row: 60 };
const paperWidth = 190;

/** How a roll is loaded and cut: what it takes, then bite by bite a picture and what is cut free. */
export function materialSection(facts: MaterialFacts, run: SheetFacts): PaperBlock {
  const { lay, parts } = facts;
  const rows = rowsOf(lay, parts, facts.bites);
  return {
    kind: 'section',
    label: rollTitle(facts),
    blocks: [
      {
        kind: 'section',
        together: 'with next',
        blocks: [
          heading(rollTitle(facts)),
          ...faceBlocks(facts, run.cutter),
          { kind: 'facts', rows: loadFacts(facts, run) },
          { kind: 'picture', svg: layLegend(lay, parts, rows, paperWidth) },
        ],
      },
      ...rows.map((row, i) => biteSection(facts, row, i)),
      ...benchBlocks(parts, run),
    ],
  };
}

/** What holds for every roll, said once. */
export const everyRoll: PaperBlock = {
  kind: 'section',
  together: true,
  blocks: [
    {
      kind: 'text',
      text: 'Every roll begins with its end on X 0 and its edge on Y 0, square to the bed. Before each feed a small cross is cut in the waste, and after it the program stops over that cross. Parts are listed as they come free, by their numbers in the picture, each with the minutes and seconds (min:s) after which the bite begins it.',
    },
  ],
};

/** More parts than this have no room beside a picture, so they stand below it. */
const mostBeside = 17;

/** A bite: its picture, and beside it how the roll is fed and what is cut free. */
function biteSection(facts: MaterialFacts, row: Row, index: number): PaperBlock {
  const { lay, parts, material } = facts;
  const labels = labelsIn(facts, index);
  const isLong = labels.length > mostBeside;
  const look: LayLook = {
    ...bitePicture,
    isBare: true,
    numbers: new Map(labels.map((label, i) => [label, i + 1])),
  };
  const free = labels.filter((label) => !isCutOn(facts, index, label)).length;
  const notes = facts.bites[index] === undefined ? [] : biteNotes(facts, index, free);
  const list = freedList(facts, labels, index, isLong ? 3 : 1);
  return {
    kind: 'section',
    label: `Bite ${index + 1}`,
    together: true,
    blocks: [
      {
        kind: 'beside',
        svg: layPicture(lay, parts, [row], clothOf(lay.roll, material), look),
        width: bitePicture.width,
        blocks: isLong ? notes : [...notes, list],
      },
      ...(isLong ? [list] : []),
    ],
  };
}

/** The colour of the roll, to be held against what is loaded, and which way up it lies. */
function faceBlocks({ lay, material }: MaterialFacts, cutter: Cutter): PaperBlock[] {
  const cloth = clothOf(lay.roll, material);
  const sample = clothSample(cloth);
  const face = faceNote(material, cutter);
  if (sample === undefined) return [face];
  return [{ kind: 'beside', svg: swatchPicture(sample, cloth.colour!), width: 80, blocks: [face] }];
}

/** Which way up the material lies, in words that can be read from where the roll is loaded. */
function faceNote(material: Material, { face }: Cutter): PaperBlock {
  const alike = material.kind === 'carpet' ? '' : ' If both sides are alike, either will do.';
  return face === 'up'
    ? {
        kind: 'shout',
        words: 'FACE UP',
        text: `Load the roll with ${faceOf(material)} up.${alike}`,
      }
    : {
        kind: 'shout',
        words: 'FACE DOWN',
        text: `Load the roll with ${faceOf(material)} on the bed and its back up.${alike} Pictures and files show it so: mirrored.`,
      };
}

function loadFacts(facts: MaterialFacts, { lengths }: SheetFacts): [string, string][] {
  const { lay, dyeLot } = facts;
  const rest = restWords(facts, lengths);
  const { roll, rules } = lay;
  return [
    ['Files', `first ${layName(lay)}.dry.nc, then ${layName(lay)}.nc or .dxf`],
    [
      'Roll',
      `${lengths.mm(roll.width)} wide, ${lengths.mm(roll.selvedge)} selvedge at each edge, first ${lengths.mm(roll.startMargin)} unused`,
    ],
    ['Dye lot', dyeLot ?? 'not said: note it here before you cut'],
    ...pileFacts(facts),
    ['Gap', `${lengths.mm(rules.gap)} between parts`],
    ...defectFacts(roll),
    [
      'Needed',
      `${lengths.metresUp(lay.length)}${Number.isFinite(roll.length) ? ` of ${lengths.metresDown(roll.length)}` : ''}`,
    ],
    ...(rest === null ? [] : [['Left on it', `${rest}, behind a square cut`] as [string, string]]),
  ];
}

/** How parts lie to the pile of a carpet, or to the direction that another material has. */
function pileFacts({ lay: { rules }, parts, material }: MaterialFacts): [string, string][] {
  const hasPile = material.kind === 'carpet';
  if (rules.turns === 'any') return [['Turned', `as it fits best${exceptions(parts)}`]];
  const way = {
    'one-way': 'from the start of the roll to its end',
    'two-way': 'along the roll, either way',
  }[rules.turns];
  return [[hasPile ? 'Pile leans' : 'Lies', `${way}${exceptions(parts)}`]];
}

/** The parts that may lie otherwise than their material says, because the set file says so. */
function exceptions(parts: readonly Part[]): string {
  const own = parts.filter(({ turns, tilt = 0 }) => turns !== undefined || tilt > 0);
  if (own.length === 0) return '';
  return `; as the set allows, otherwise for ${[...new Set(own.map(({ name }) => name))].join(', ')}`;
}

function defectFacts({ defects = [], outline }: Roll): [string, string][] {
  const facts: [string, string][] = [];
  if (outline !== undefined)
    facts.push(['Remnant', 'no oblong: held to the outline in the picture']);
  if (defects.length > 0) {
    const places = defects.map((defect) => {
      const [from, to] = [Math.min, Math.max].map((pick) => pick(...defect.map(({ x }) => x)));
      return `${metresUp(from!)} to ${metresUp(to!)}`;
    });
    facts.push(['Defects avoided', `${places.join(', ')} from the start of the roll`]);
  }
  return facts;
}

/** How the roll is fed to a bite, how the bite is begun again, and how many parts come free in it. */
function biteNotes(
  { bites, lay, single }: MaterialFacts,
  index: number,
  free: number,
): PaperBlock[] {
  const come = free === 1 ? '1 part comes free:' : `${free} parts come free:`;
  if (bites.length < 2) return [heading('One bite', 3), { kind: 'text', soft: true, text: come }];
  const { start, check, mark } = bites[index]!;
  const place = ({ x, y }: Point): string => `X ${(x - start).toFixed(0)}, Y ${y.toFixed(0)}`;
  const before = bites[index - 1];
  const feed = before === undefined ? 'as loaded' : `feed ${mmUp(start - before.start)} first`;
  const notes = [
    ...(check === undefined ? [] : [`Cross of the bite before: ${place(check)}.`]),
    ...(mark === undefined ? [] : [`Cross for the next feed: ${place(mark)}.`]),
    `To begin here again: roll ${start === 0 ? 'as loaded' : `fed ${mmUp(start)} from its start`}, ${layName(lay)}.${biteName(index + 1, bites.length)}.nc, ${duration(single[index]!.minutes)}.`,
    come,
  ];
  return [
    heading(`Bite ${index + 1}: ${feed}`, 3),
    { kind: 'text', soft: true, text: notes.join(' ') },
  ];
}

function mmUp(length: number): string {
  return `${length.toFixed(0)} mm`;
}

/** The parts whose outlines are cut in a bite, in that order. */
function labelsIn({ bites }: MaterialFacts, index: number): string[] {
  const outlines = bites[index]?.cuts.filter(({ kind }) => kind === 'outline') ?? [];
  return [...new Set(outlines.map(({ label }) => label))];
}

/** Whether a part is still cut in a later bite, so that it does not come free in this one. */
function isCutOn({ bites }: MaterialFacts, index: number, label: string): boolean {
  return bites.slice(index + 1).some(({ cuts }) => cuts.some((cut) => cut.label === label));
}

/**
 * The parts of a bite as a list, each with the time at which its outline is begun. Parts that only come free in
 * a later bite stand in brackets.
 */
function freedList(
  facts: MaterialFacts,
  labels: readonly string[],
  index: number,
  columns: number,
): PaperBlock {
  const { knife, single } = facts;
  const begun = new Map(
    (single[index] ?? knife).begun.map(({ text, minutes }) => [text, clock(minutes)]),
  );
  const items = labels.map((label) => {
    const words = isCutOn(facts, index, label) ? `(${label}: to be cut on)` : label;
    return `${words} ${begun.get(`${label} outline`) ?? ''}`.trimEnd();
  });
  return { kind: 'list', items, numbered: true, columns };
}

function benchBlocks(parts: readonly Part[], { cutter }: SheetFacts): PaperBlock[] {
  const left = parts.flatMap((part) =>
    leftToBench(part, cutter).map(({ role, width, height }) => [
      part.label,
      role === 'HOLE' ? 'hole' : 'cutout',
      `${width.toFixed(1)} x ${height.toFixed(1)} mm`,
    ]),
  );
  if (left.length === 0) return [];
  return [
    heading('Left to the bench', 3),
    { kind: 'text', text: 'Marked, not cut: too tight for this knife.' },
    { kind: 'table', columns: [{ head: 'Part' }, { head: 'What' }, { head: 'Size' }], rows: left },
  ];
}
