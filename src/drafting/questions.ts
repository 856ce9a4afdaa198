import type { Finding, Severity } from '../base/findings.ts';
import { rounded } from '../base/numbers.ts';
import { listed } from '../base/wording.ts';
import { pathOfEntity, startOfEntity } from '../drawing/entity-of.ts';
import { boxOfEntities } from '../drawing/extents.ts';
import { centreOf } from '../geometry/paths/box.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import { tracedKinds } from '../pattern/edges.ts';
import { checkSetFiles } from '../jobs/check.ts';
import { meaningOf } from '../pattern/layers.ts';
import { thingWords } from '../pattern/unknown-layers.ts';
import { listFindings } from '../papers/pictures/check/finding-list.ts';
import { blockNameOf, blockOfPiece } from './blocks.ts';
import type { DraftContent } from './content.ts';
import type { Draft } from './draft.ts';
import { setOfDraft } from './draft.ts';
import {
  askedEdges,
  edgeNotClaimed,
  isAskedOfEdges,
  stretchesMeant,
  undecidedQuestions,
} from './edge-questions.ts';
import type { EditContext } from './edit-context.ts';
import { shownContent } from './keep-draft.ts';
import { readDraft } from './read-draft.ts';
import type { Spot } from './edge-view.ts';

/** Something about a draft that somebody must answer, or look at. */
export interface Question {
  /** Tells it from all others of the draft. */
  readonly id: string;
  /** null: it is about the set as a whole. */
  readonly piece: string | null;
  readonly severity: Severity;
  /** The rule that asks; `open`: the set file itself does. */
  readonly rule: string;
  /** Under `open`: the key whose value is a guess. */
  readonly key: string | null;
  readonly message: string;
  readonly todo: string;
  /** The hand of drive in which it is so, or with which options, in words. */
  readonly when: string | null;
  /** Things of the piece's block that it is about, by their places. */
  readonly things: readonly number[];
  /** Stretches of the piece's outline that it is about, by their places in order round it. */
  readonly stretches: readonly number[];
  /** Where, in the frame of the piece's block. */
  readonly at: Spot | null;
  readonly near: string | null;
}

/** Questions that the desk asks by itself in other words, one by one. */
const askedOtherwise: ReadonlySet<string> = new Set(['open-question', 'unknown-layer']);

/**
 * All that is open about a draft: guesses of the set file, then what `check` finds, worst first within each
 * piece. Throws a Refusal where the set cannot be read at all.
 */
export function questionsOf(draft: Draft, context: EditContext): Question[] {
  const { sharedFolder } = context;
  const { patterns, findings } = checkSetFiles(setOfDraft(draft, sharedFolder), sharedFolder);
  const content = shownContent(draft, context);
  const edges = askedEdges(content, readDraft(draft, sharedFolder), context);
  const found = findings.filter(
    (one) => !askedOtherwise.has(one.rule) && !isAskedOfEdges(one, edges),
  );
  const groups = listFindings(patterns, found);
  const told = groups.flatMap(({ piece, findings: own }) =>
    own.map(({ finding, at, near }): Omit<Question, 'id'> => ({
      piece,
      severity: finding.severity,
      rule: finding.rule,
      key: null,
      message: finding.message,
      todo: finding.todo,
      when: whenOf(finding),
      things: at === null || piece === null ? [] : thingsAt(content, context, piece, at),
      stretches: stretchesMeant(finding.rule, at, edges.get(piece ?? '')),
      at: at === null || piece === null ? null : [rounded(at.x, 2), rounded(at.y, 2)],
      near,
    })),
  );
  const order = [null, ...Object.keys(draft.said.pieces)];
  const rank = { error: 0, warning: 1, note: 2 } as const;
  const all = [
    ...openQuestions(draft),
    ...unsaidQuestions(content, context),
    ...undecidedQuestions(edges),
    ...told,
  ].toSorted(
    (a, b) =>
      rank[a.severity] - rank[b.severity] || order.indexOf(a.piece) - order.indexOf(b.piece),
  );
  return all.map((one) => ({ id: idOf(one), ...one }));
}

function idOf({ piece, rule, key, message, at }: Omit<Question, 'id'>): string {
  // It is the same question while some of the stretches are answered.
  if (rule === edgeNotClaimed) return JSON.stringify([piece, rule]);
  return JSON.stringify([piece, rule, key, message, at]);
}

function whenOf({ where: { hand, choice } }: Finding): string | null {
  const words = [
    ...(hand === undefined ? [] : [`in ${hand}`]),
    ...(choice === undefined ? [] : [choice]),
  ];
  return words.length === 0 ? null : words.join(', ');
}

/** What the set file itself asks, under `open:`. */
function openQuestions({ said }: Draft): Omit<Question, 'id'>[] {
  const ask = (piece: string | null, open: object | null | undefined): Omit<Question, 'id'>[] =>
    Object.entries(open ?? {}).map(([key, why]) => ({
      piece,
      severity: 'error',
      rule: 'open',
      key,
      message: `${String(why)}.`,
      todo: '',
      when: null,
      things: [],
      stretches: [],
      at: null,
      near: null,
    }));
  return [
    ...ask(null, said.open),
    ...Object.entries(said.pieces).flatMap(([piece, entry]) => ask(piece, entry.open)),
  ];
}

/** A finding that is no further than this from a thing, mm, is about that thing. */
const atThing = 0.1;

/** The things of a piece that a place of a finding belongs to: those that begin, end or have their middle there. */
function thingsAt(
  content: DraftContent,
  { layersOf }: EditContext,
  piece: string,
  at: Point,
): number[] {
  const { entities } = blockOfPiece(content, piece);
  const map = layersOf(piece);
  const isAt = (spot: Point): boolean => distance(spot, at) <= atThing;
  return entities.flatMap((entity, i) => {
    const role = meaningOf(entity.layer, map)?.role;
    if (entity.kind === 'text' || role === 'OUTLINE') return [];
    const { vertices } = pathOfEntity(entity);
    const middle = centreOf(boxOfEntities([entity]));
    const isNear = isAt(vertices[0]!) || isAt(vertices.at(-1)!) || isAt(middle);
    return isNear && tracedKinds[role ?? 'NOTE'] === undefined ? [i] : [];
  });
}

/** Things on layers that say nothing: one question for each piece on which there are any. */
function unsaidQuestions(content: DraftContent, { layersOf }: EditContext): Omit<Question, 'id'>[] {
  return Object.entries(content.said.pieces).flatMap(([piece, entry]) => {
    const block = content.blocks.find(({ name }) => name === blockNameOf(piece, entry));
    const map = layersOf(piece);
    const things = (block?.entities ?? []).flatMap((entity, i) =>
      entity.kind !== 'text' && meaningOf(entity.layer, map) === null ? [i] : [],
    );
    const first = things[0];
    if (first === undefined) return [];
    const entity = block!.entities[first]!;
    const { x, y } = startOfEntity(entity);
    const layers = [...new Set(things.map((i) => block!.entities[i]!.layer))];
    return [
      {
        piece,
        severity: 'error',
        rule: 'unknown-layer',
        key: null,
        message:
          things.length === 1
            ? `what is ${thingWords(entity)} on layer ${entity.layer}?`
            : `what are ${things.length} things on ${layers.length === 1 ? 'layer' : 'layers'} ${listed(layers)}?`,
        todo: 'Choose them in the picture or in the list, one by one or several, and say what they are. What all of a layer is, the whole set says.',
        when: null,
        things,
        stretches: [],
        at: [rounded(x, 2), rounded(y, 2)],
        near: null,
      } as const,
    ];
  });
}
