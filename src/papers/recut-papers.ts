import type { Part } from '../handing/part.ts';
import { benchPicture } from './pictures/bench-picture.ts';
import type { LeftWork } from '../knife/left-work.ts';
import type { RecutRecord } from '../program/record/run-record.ts';
import type { PaperBlock, Paper } from './documents/document.ts';
import { heading } from './documents/document.ts';
import { paperHtml } from './documents/document-html.ts';
import { paperPdf } from './documents/document-pdf.ts';
import type { PartLabel } from './sheets/part-label.ts';
import { labelsPdf, pictureSize } from './sheets/labels.ts';
import type { BenchStep } from './facts/next-steps.ts';
import { wordStep } from './facts/next-steps.ts';
import type { LabelWords, ShapeWords } from './facts/order-words.ts';
import { labelCloth, wordShape } from './facts/order-words.ts';
import type { CountInOrder } from './facts/count-in-order.ts';
import type { PaperFiles } from './papers.ts';
import type { RunFacts } from './facts/run-facts.ts';
import { footOf } from './facts/run-facts.ts';
import { everyRoll, materialSection } from './sheets/roll-section.ts';
import { cautions, findingBlocks, loadTable } from './sheets/sheet.ts';

/** A part that is cut once more. */
interface RecutPart {
  readonly part: Part;
  /** Which of the parts of its order it is, over all that the first run cut of it. */
  readonly place: CountInOrder;
  /** The title of its set. */
  readonly title: string;
  /** The options that shape it. */
  readonly shape: readonly ShapeWords[];
  /** What its order says of it. */
  readonly words: LabelWords;
  /** What happens to it after cutting. */
  readonly steps: readonly BenchStep[];
  /** What the knife leaves to be done by hand on it. */
  readonly left: readonly LeftWork[];
}

/** All facts that papers give about a recut. */
export interface RecutFacts extends Omit<RunFacts, 'orders' | 'bench'> {
  /** The run from which these parts are. */
  readonly recutOf: RecutRecord;
  /** Whether anything is cut from what the run left on its roll. */
  readonly fromRest: boolean;
  readonly parts: readonly RecutPart[];
}

/** Stands on labels and sheets, so that nobody takes a part that was cut again for the first one. */
const recutMark = 'RECUT';

/** The sheet and the labels of parts that are cut once more. */
export async function recutPapers(facts: RecutFacts): Promise<PaperFiles> {
  const sheet = recutSheet(facts);
  const labels = facts.parts.map((one) => recutLabel(one, facts));
  return new Map<string, string | Uint8Array>([
    ['sheet.html', paperHtml(sheet)],
    ['sheet.pdf', await paperPdf(sheet)],
    ['labels.pdf', await labelsPdf(labels, facts.labelStock, sheet.title)],
  ]);
}

function recutSheet(facts: RecutFacts): Paper {
  const rows = facts.parts.map(({ part, title, shape, words, steps }) => [
    part.label,
    part.side ?? 'centre',
    part.hand,
    [title, wordShape(shape), labelCloth(words), ...words.lines]
      .filter((one) => one !== '')
      .join('; '),
    steps.map(wordStep).join('; '),
  ]);
  const columns = [
    { head: 'Part', share: 1.4 },
    { head: 'Side', share: 0.6 },
    { head: 'Hand', share: 0.5 },
    { head: 'Set', share: 1.4 },
    { head: 'What happens next', share: 2 },
  ] as const;
  return {
    title: `${recutMark}: ${facts.recutOf.run}`,
    subtitle: `Parts of run ${facts.recutOf.run} (fingerprint ${facts.recutOf.fingerprint}) once more, of the same shape, on ${facts.cutter.title}. Fingerprint ${facts.fingerprint}.`,
    foot: `recut, ${footOf(facts)}`,
    blocks: [
      heading('What is cut again'),
      { kind: 'table', columns, rows },
      heading('What it takes'),
      loadTable(facts),
      everyRoll,
      ...(facts.fromRest ? [restNote] : []),
      ...findingBlocks(facts.findings),
      cautions,
      ...facts.materials.map((one) => materialSection(one, facts)),
    ],
  };
}

const restNote: PaperBlock = {
  kind: 'text',
  text: 'Where no remnant is named, cut the roll off square behind the last part of that run: its new end is where the lay begins.',
};

function recutLabel(
  { part, title, shape, words, steps, left, place }: RecutPart,
  { labelStock }: RecutFacts,
): PartLabel {
  return {
    label: part.label,
    name: part.name,
    side: part.side,
    hand: part.hand,
    order: part.order,
    set: part.set,
    place,
    title,
    shape,
    words,
    steps,
    svg: benchPicture(part, pictureSize(labelStock), { left }),
    mark: recutMark,
  };
}
