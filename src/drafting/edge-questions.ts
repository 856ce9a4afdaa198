import type { Finding } from '../base/findings.ts';
import { rounded } from '../base/numbers.ts';
import { counted } from '../base/wording.ts';
import type { Point } from '../geometry/paths/point.ts';
import { middleOfPath } from '../geometry/paths/path.ts';
import { blockNameOf, findBlock } from './blocks.ts';
import type { DraftContent } from './content.ts';
import type { EditContext } from './edit-context.ts';
import type { EdgeDraft } from './edges/drawn-traces.ts';
import { pointedAt, stretchAt } from './edges/pointing.ts';
import { sameEdgeDraft } from './edges/same-draft.ts';
import type { Stretches } from './edges/stretches.ts';
import { stretchesOf } from './edges/stretches.ts';
import type { Spot } from './edge-view.ts';
import type { ReadDraft } from './read-draft.ts';

/** The outline of a piece as it is divided, by which questions say what they mean. */
export interface AskedEdges {
  readonly draft: EdgeDraft;
  readonly stretches: Stretches;
}

/** The outlines of all pieces that can be read, by the names of the pieces. */
export function askedEdges(
  content: DraftContent,
  read: ReadDraft,
  { layersOf }: EditContext,
): ReadonlyMap<string, AskedEdges> {
  return new Map(
    read.pieces.flatMap((piece): [string, AskedEdges][] => {
      const name = blockNameOf(piece.name, content.said.pieces[piece.name]!);
      const block = findBlock(content, name);
      if (block === undefined) return [];
      const draft = sameEdgeDraft(piece, block, layersOf(piece.name), read);
      return [[piece.name, { draft, stretches: stretchesOf(draft) }]];
    }),
  );
}

/** What is asked about the stretches of a piece of which nothing is said. */
interface UndecidedQuestion {
  readonly piece: string;
  readonly severity: 'error';
  readonly rule: string;
  readonly key: null;
  readonly message: string;
  readonly todo: string;
  readonly when: null;
  readonly things: readonly number[];
  readonly stretches: readonly number[];
  readonly at: Spot;
  readonly near: null;
  readonly gap: null;
}

/** Stretches of which nothing is said: one question for each piece that has any. */
export function undecidedQuestions(edges: ReadonlyMap<string, AskedEdges>): UndecidedQuestion[] {
  return [...edges].flatMap(
    ([
      piece,
      {
        stretches: { stretches },
      },
    ]) => {
      const open = stretches.flatMap(({ kind }, i) => (kind === null ? [i] : []));
      const [first] = open;
      if (first === undefined) return [];
      const { x, y } = middleOfPath(stretches[first]!.path);
      const isAll = open.length === stretches.length;
      return [
        {
          piece,
          severity: 'error',
          rule: edgeNotClaimed,
          key: null,
          message: isAll
            ? 'what happens to its edge?'
            : `what happens to ${counted(open.length, 'stretch', 'stretches')} of its edge?`,
          todo: 'Choose stretches in the picture or in the list, one by one or several, and say it: bound, sewn, tucked, turned under or left raw.',
          when: null,
          things: [],
          stretches: open,
          at: [rounded(x, 2), rounded(y, 2)],
          near: null,
          gap: null,
        },
      ];
    },
  );
}

/** The rule that asks for stretches of which nothing is said. */
export const edgeNotClaimed = 'edge-not-claimed';

/** Whether a finding of `check` says no more than undecidedQuestions asks. */
export function isAskedOfEdges(
  { rule, where }: Finding,
  edges: ReadonlyMap<string, AskedEdges>,
): boolean {
  if (rule !== edgeNotClaimed) return false;
  if (where.piece === undefined) return true;
  const own = edges.get(where.piece)?.stretches.stretches ?? [];
  return own.some(({ kind }) => kind === null);
}

/** Rules whose findings lie on the edge that they are about. */
const ofEdges: ReadonlySet<string> = new Set([
  'raw-on-show',
  'edge-claimed-twice',
  'seam-alone',
  'seam-edge',
  'seam-length',
  'seam-notch',
  'seam-several',
  'seam-twice',
  'tuck-under',
  'bound-corner',
  'turned-corner',
]);

/** How far from an outline something still lies on it, mm. */
const onOutline = 2;

/** The stretches that a finding is about: those of one kind and name round its place. Empty: it cannot be told. */
export function stretchesMeant(
  rule: string,
  at: Point | null,
  edges: AskedEdges | undefined,
): number[] {
  if (at === null || edges === undefined || !ofEdges.has(rule)) return [];
  const { draft, stretches } = edges;
  const place = pointedAt(draft, { divisions: [] }, at, 0);
  if (place.distance > onOutline) return [];
  const all = stretches.stretches;
  const own = stretchAt(stretches, place.along);
  const isLike = (i: number): boolean => {
    const { kind, name } = all[(i + all.length) % all.length]!;
    return kind === own.kind && name === own.name;
  };
  const here = all.indexOf(own);
  let [first, last] = [here, here];
  while (last - first + 1 < all.length && isLike(first - 1)) first--;
  while (last - first + 1 < all.length && isLike(last + 1)) last++;
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i + all.length) % all.length);
}
