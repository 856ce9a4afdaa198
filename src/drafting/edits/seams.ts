import { refuse, refuseErrors } from '../../base/findings.ts';
import { blockOfPiece, withEntities } from '../blocks.ts';
import type { AppliedEdit, DraftContent, SetSaid } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';
import type { EdgeContext } from '../edit-context.ts';
import { stretchAt } from '../edges/pointing.ts';
import { stretchesOf } from '../edges/stretches.ts';
import { isSameJoin } from '../edges/seam-facts.ts';
import { withSeamNotches } from '../edges/set-notches.ts';
import { readMaterials } from '../../pattern/shop/material.ts';
import { withValues } from '../values.ts';
import { edgeDraftOf } from './edge-draft.ts';
import type { OutlinePart } from './edges.ts';
import { isNameless, joinedReaches, withKind } from './edges.ts';

type Seam = NonNullable<SetSaid['seams']>[number];
type Join = Seam['join'];

/** Two edges that are sewn together. Where they are none yet, they become edges of that kind, with names. */
export function editSeam(
  content: DraftContent,
  { sides, ease }: EditOf<'seam'>,
  context: EdgeContext,
): AppliedEdit {
  const first = sewnSide({ ...content, told: [] }, sides[0], context);
  const second = sewnSide(first.after, sides[1], context);
  const join: Join = [first.ref, second.ref];
  if (join[0] === join[1]) {
    refuse('draft', 'an edge cannot be sewn to itself.', 'Choose another edge.', {
      piece: sides[0].piece,
    });
  }
  const seams = second.after.said.seams ?? [];
  const at = seams.findIndex((seam) => isSameJoin(seam.join, join));
  const seam: Seam = {
    join: at === -1 ? join : seams[at]!.join,
    ...(ease === null ? {} : { ease }),
  };
  const next = at === -1 ? [...seams, seam] : seams.toSpliced(at, 1, seam);
  return { ...second.after, said: { ...second.after.said, seams: next } };
}

function sewnSide(
  before: AppliedEdit,
  { piece, stretches }: EditOf<'seam'>['sides'][number],
  context: EdgeContext,
): { after: AppliedEdit; ref: string } {
  const known = knownReference(before, piece, stretches, context);
  if (known !== null) return { after: before, ref: known };
  const [reach, ...others] = joinedReaches(stretches);
  if (reach === undefined || others.length > 0) {
    const todo = 'Choose stretches that follow each other, or make a seam of each.';
    return refuse('draft', 'one seam goes along one edge without a gap.', todo, { piece });
  }
  const { after, name } = withKind(before, piece, { ...reach, kind: 'seam' }, context, isNameless);
  if (name === null) {
    const todo = 'Choose another one, or change it in the drawing.';
    return refuse('draft', 'nothing could be drawn on that edge.', todo, { piece });
  }
  return { after, ref: `${piece}/${name}` };
}

/**
 * How seams name an edge that is sewn as it stands: by its name, on whichever sides it lies, or by the piece
 * alone where one seam does so and the piece has no other. null: they cannot yet.
 */
function knownReference(
  { said, blocks }: AppliedEdit,
  piece: string,
  reaches: readonly OutlinePart[],
  context: EdgeContext,
): string | null {
  const divided = stretchesOf(edgeDraftOf({ said, blocks }, piece, context));
  const sewn = divided.stretches.filter(
    ({ kind, saidBy }) => kind === 'seam' && saidBy === 'trace',
  );
  const own = reaches.map((reach) => stretchAt(divided, reach.from));
  const name = own[0]?.name ?? null;
  if (!own.every((one) => sewn.includes(one) && one.name === name)) return null;
  const isAlone = sewn.every((one) => one.name === name);
  if (isAlone && (said.seams ?? []).some(({ join }) => join.includes(piece))) return piece;
  return name === null ? null : `${piece}/${name}`;
}

/** Two edges that are no seam any more; what happens to them is still that they are sewn. */
export function removeSeam(content: DraftContent, { join }: EditOf<'unseam'>): DraftContent {
  const seams = content.said.seams ?? [];
  const left = seams.filter((seam) => !isSameJoin(seam.join, join));
  if (left.length === seams.length) {
    refuse('draft', `there is no seam ${join.join(' – ')} any more.`, 'Look at the seams again.');
  }
  return { ...content, said: withValues(content.said, { seams: left.length === 0 ? null : left }) };
}

/** Notches at equal distances along both edges of a seam. */
export function setSeamNotches(
  content: DraftContent,
  { join, count, replace }: EditOf<'seam-notches'>,
  context: EdgeContext,
): DraftContent {
  const patterns = context.read().patterns();
  const materials = readMaterials(patterns.materials, context.sharedFolder);
  const pieces = join.map((ref) => ref.split('/')[0]!);
  const drafts = pieces.map((piece) => edgeDraftOf(content, piece, context));
  const { ease } = (content.said.seams ?? []).find((seam) => isSameJoin(seam.join, join)) ?? {};
  const asked = { join: [...join] as [string, string], ...(ease === undefined ? {} : { ease }) };
  const both = [drafts[0]!, drafts[1]!] as const;
  const { entities, findings } = withSeamNotches(
    patterns,
    materials,
    asked,
    both,
    { count },
    replace,
  );
  refuseErrors(findings);
  return pieces.reduce(
    (before, piece, i) => withEntities(before, blockOfPiece(content, piece).name, entities[i]!),
    content,
  );
}
