import { decimal } from '../base/numbers.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import type { Difference } from './difference.ts';
import { theWhole } from './difference.ts';
import { factDifference } from './word-differences.ts';
import type { ProgramStroke, StrokedProgram } from './strokes.ts';

type Cutter = RunRecord['cutter'];

/**
 * Heights and feeds that only one of two programs has, besides those of its own machine's profile: where profile or lay
 * differ, these are what no record tells.
 */
export function programFacts(
  before: StrokedProgram,
  beforeCutter: Cutter,
  after: StrokedProgram,
  afterCutter: Cutter,
  file: string,
): Difference[] {
  const [old, young] = [strangeIn(before, beforeCutter), strangeIn(after, afterCutter)];
  return (['height', 'feed'] as const).flatMap((name) => {
    const [was, is] = [old[name], young[name]].map((all) => all.join(', ')) as [string, string];
    if (was === is) return [];
    const fact = {
      name,
      ...(was === '' ? {} : { was }),
      ...(is === '' ? {} : { is }),
    };
    return [{ ...factDifference(fact, theWhole), file }];
  });
}

/** Programs have three decimals in mm, or four in inches. */
const sameNumber = 0.003;

function strangeIn(
  { strokes, program }: StrokedProgram,
  { knife, heights, feeds }: Cutter,
): { height: string[]; feed: string[] } {
  const turning = knife.kind === 'tangential' ? [knife.axis.feed] : [];
  const swivel = knife.kind === 'trailing' ? [knife.swivelDepth] : [];
  // Feeds in inches are written to whole thousandths of an inch a minute.
  const near = program.units === 'in' ? 0.05 : sameNumber;
  const strange = (all: readonly number[], known: readonly number[], within: number): string[] => [
    ...new Set(
      all
        .filter((one) => !known.some((other) => Math.abs(one - other) <= within))
        .map((one) => decimal(one, 3)),
    ),
  ];
  const of = (pick: (moves: ProgramStroke['moves']) => readonly number[]): number[] =>
    strokes.flatMap(({ moves }) => pick(moves));
  return {
    height: strange(
      of((moves) => [...moves.heights, ...moves.travels]),
      [heights.cut, heights.travel, ...swivel],
      sameNumber,
    ),
    feed: strange(
      of((moves) => [...moves.feeds, ...moves.plunges, ...moves.turns]),
      [feeds.cut, feeds.plunge, ...turning],
      near,
    ),
  };
}

/** Heights and feeds of two programs of different machines, each with all that it has. */
export function numberDifferences(
  before: readonly ProgramStroke[],
  after: readonly ProgramStroke[],
): Difference[] {
  return numbersOfStrokes.flatMap(({ name, pick }) => {
    const [was, is] = [before, after].map((strokes) => {
      const all = new Set(
        strokes.flatMap(({ moves }) => pick(moves)).map((one) => decimal(one, 3)),
      );
      return [...all].sort((a, b) => Number(a) - Number(b)).join(', ');
    }) as [string, string];
    return was === is ? [] : [factDifference({ name, was, is }, theWhole)];
  });
}

const numbersOfStrokes: readonly {
  readonly name: string;
  readonly pick: (moves: ProgramStroke['moves']) => readonly number[];
}[] = [
  { name: 'height', pick: ({ heights }) => heights },
  { name: 'travel height', pick: ({ travels }) => travels },
  { name: 'feed', pick: ({ feeds }) => feeds },
  { name: 'plunge feed', pick: ({ plunges }) => plunges },
];
