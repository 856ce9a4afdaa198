import { refuseErrors } from '../../base/findings.ts';
import { measurePath, stretchAlong } from '../../geometry/measuring/measured-path.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { blockOfPiece, pieceSaid, withEntities } from '../blocks.ts';
import type { AppliedEdit, DraftContent, SetSaid } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';
import { drawnTraces } from '../edges/drawn-traces.ts';
import { proposedName } from '../edges/edge-naming.ts';
import { withEdgeRenamed, withEdgeSplit, withoutEdge } from '../edges/edge-references.ts';
import type { EdgeAnswer } from '../edges/planned-traces.ts';
import { renameEdge } from '../edges/rename-edge.ts';
import { onRound } from '../edges/spans.ts';
import { stretchesOf } from '../edges/stretches.ts';
import { withEdgeKind } from '../edges/with-edge-kind.ts';
import { withPiece, withValues } from '../values.ts';
import { edgeDraftOf } from './edge-draft.ts';
import type { EdgeContext } from '../edit-context.ts';

/** A part of an outline: mm along it from its first vertex. */
export type OutlinePart = EditOf<'edge'>['stretches'][number];

/** Places nearer to each other along an outline are one, mm: the page knows them rounded. */
const sameAlong = 0.02;

/** What happens to stretches of a piece's outline: a kind, a name, what hides them. */
export function editEdge(
  content: DraftContent,
  { piece, stretches, edge, name, under }: EditOf<'edge'>,
  context: EdgeContext,
): AppliedEdit {
  const draft = edgeDraftOf(content, piece, context);
  const before = stretchesOf(draft);
  // What hides a part of an edge is said of that part alone: it gets a name of its own.
  const beyond = new Set(
    before.stretches
      .filter((own) => own.kind === edge && !stretches.some((one) => isSameReach(own, one)))
      .map((own) => own.name),
  );
  const isUnfit = (known: string | null): boolean =>
    under !== undefined && (known === null || beyond.has(known));
  const isSaid = (one: OutlinePart): boolean =>
    before.stretches.some(
      (own) => own.kind === edge && own.saidBy === 'trace' && isSameReach(own, one),
    );
  // What is of that kind already keeps its names; what becomes so is one edge where it hangs together.
  const reaches =
    name === undefined
      ? [...stretches.filter(isSaid), ...joinedReaches(stretches.filter((one) => !isSaid(one)))]
      : joinedReaches(stretches);
  let now: AppliedEdit = { ...content, told: [] };
  const names: string[] = [];
  for (const reach of reaches) {
    const answer = { ...reach, kind: edge, ...(name === undefined ? {} : { name }) };
    const given = withKind(now, piece, answer, context, isUnfit);
    now = given.after;
    if (given.name !== null) names.push(given.name);
  }
  if (under === undefined || (edge !== 'raw' && edge !== 'tuck')) return now;
  return withUnder(now, piece, edge, names, under, context);
}

function isSameReach(a: OutlinePart, b: OutlinePart): boolean {
  return Math.abs(a.from - b.from) <= sameAlong && Math.abs(a.to - b.to) <= sameAlong;
}

/** Parts of an outline that follow each other as one. */
export function joinedReaches(reaches: readonly OutlinePart[]): OutlinePart[] {
  const follows = (one: OutlinePart, next: OutlinePart): boolean =>
    Math.abs(one.to - next.from) <= sameAlong;
  for (const one of reaches) {
    const next = reaches.find((other) => other !== one && follows(one, other));
    if (next === undefined) continue;
    const others = reaches.filter((other) => other !== one && other !== next);
    const isRound = follows(next, one);
    const joined = isRound ? { from: one.from, to: one.from } : { from: one.from, to: next.to };
    return joinedReaches([joined, ...others]);
  }
  return reaches.map(({ from, to }) => ({ from, to }));
}

/**
 * The content after a part of an outline got a kind. `isUnfit`: whether it gets another name than the one it has, or
 * a name at all. Throws a Refusal where it cannot be.
 */
export function withKind(
  before: AppliedEdit,
  piece: string,
  answer: EdgeAnswer,
  context: EdgeContext,
  isUnfit: (name: string | null) => boolean,
): { after: AppliedEdit; name: string | null } {
  const draft = edgeDraftOf(before, piece, context);
  const given = withEdgeKind(draft, answer);
  refuseErrors(given.findings);
  if (isUnfit(given.name) && answer.kind !== null && answer.name === undefined) {
    const outline = measurePath(draft.piece.outline);
    const path = stretchAlong(outline, answer.from, onRound(answer.to, outline.length));
    const taken = drawnTraces(draft).traces.flatMap((one) => (one.name === null ? [] : [one.name]));
    const name = proposedName(draft.piece, path, taken);
    return withKind(before, piece, { ...answer, name }, context, () => false);
  }
  const { entities, split, gone, findings, name } = given;
  const block = blockOfPiece(before, piece).name;
  const drawn = entities === draft.entities ? before : withEntities(before, block, entities);
  const divided = split.reduce(
    (said, one) => withEdgeSplit(said, piece, one.name, one.also),
    before.said as Naming,
  );
  const said = gone.reduce((all, one) => withoutEdge(all, piece, one), divided) as SetSaid;
  return { after: { ...drawn, said, told: [...before.told, ...findings] }, name };
}

/** Whether what happens to an edge cannot be told of it, since it has no name. */
export function isNameless(name: string | null): boolean {
  return name === null;
}

/** A set file as what names edges reads it. */
type Naming = Parameters<typeof withEdgeRenamed>[0];

const hiderKeys = { raw: 'covered', tuck: 'tucked' } as const;

/** What hides edges of a piece, by their names. One text for all keeps its meaning for the others. */
function withUnder(
  before: AppliedEdit,
  piece: string,
  kind: 'raw' | 'tuck',
  names: readonly string[],
  under: string,
  context: EdgeContext,
): AppliedEdit {
  const key = hiderKeys[kind];
  const said = pieceSaid(before, piece)[key];
  if (said === under) return before;
  const named =
    typeof said === 'string'
      ? withAllNamed(before, piece, kind, context)
      : { after: before, names: [] };
  const others =
    typeof said === 'string'
      ? Object.fromEntries(named.names.map((name) => [name, said]))
      : (said ?? {});
  const own = Object.fromEntries(names.map((name) => [name, under]));
  const hiders = Object.fromEntries(
    Object.entries({ ...others, ...own }).filter(([, words]) => words !== ''),
  );
  const entry = withValues(pieceSaid(named.after, piece), {
    [key]: Object.keys(hiders).length === 0 ? null : hiders,
  });
  return { ...withPiece(named.after, piece, entry), told: named.after.told };
}

/** The content with a name for each edge of a kind, and these names. */
function withAllNamed(
  before: AppliedEdit,
  piece: string,
  kind: EdgeKind,
  context: EdgeContext,
): { after: AppliedEdit; names: string[] } {
  const own = stretchesOf(edgeDraftOf(before, piece, context)).stretches.filter(
    (one) => one.kind === kind && one.special.length === 0,
  );
  const known = own.flatMap(({ name }) => (name === null ? [] : [name]));
  let after = before;
  const names = [...new Set(known)];
  for (const reach of joinedReaches(own.filter(({ name }) => name === null))) {
    const given = withKind(after, piece, { ...reach, kind }, context, isNameless);
    after = given.after;
    if (given.name !== null) names.push(given.name);
  }
  return { after, names };
}

/** An edge gets another name, wherever the set file names it too. */
export function nameEdge(
  content: DraftContent,
  { piece, edge, to }: EditOf<'name-edge'>,
  context: EdgeContext,
): DraftContent {
  const draft = edgeDraftOf(content, piece, context);
  const { entities, findings } = renameEdge(draft, content.said as Naming, edge, to);
  refuseErrors(findings);
  const drawn = withEntities(content, blockOfPiece(content, piece).name, entities);
  return { ...drawn, said: withEdgeRenamed(content.said as Naming, piece, edge, to) as SetSaid };
}
