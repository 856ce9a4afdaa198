import type { Finding, Severity } from '../base/findings.ts';
import { worstFirst } from '../base/findings.ts';
import { decimal, rounded } from '../base/numbers.ts';
import type { Entity } from '../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../drawing/entity-of.ts';
import { boxOfEntities } from '../drawing/extents.ts';
import { centreOf } from '../geometry/paths/box.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import { tracedKinds } from '../pattern/edges.ts';
import { checkSetFiles } from '../jobs/check.ts';
import { kindWords } from '../pattern/first-look/alike-things.ts';
import type { ThingGuess } from '../pattern/first-look/guess-roles.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { meaningOf } from '../pattern/layers.ts';
import type { Piece } from '../pattern/piece.ts';
import { leftOutBlock, leftOutKey } from '../pattern/set-file.ts';
import { thingWords } from '../pattern/unknown-layers.ts';
import { listFindings } from '../papers/pictures/check/finding-list.ts';
import { blockNameOf, blockOfPiece, findBlock } from './blocks.ts';
import type { DraftContent, PieceSaid, SetSaid } from './content.ts';
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
import { alikeKey, guessesIn } from './guesses.ts';
import type { Gap } from './gaps.ts';
import { gapAt, gapsOfLong } from './gaps.ts';
import { otherHalves } from './halves.ts';
import { shownContent } from './keep-draft.ts';
import { readFiles } from './read-draft.ts';
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
  /** The gap that it is about, which a straight line may close. */
  readonly gap: Gap | null;
}

/** Questions that the desk asks by itself in other words, one by one. */
const askedOtherwise: ReadonlySet<string> = new Set(['open-question', 'unknown-layer']);

/**
 * All that is open about a draft: guesses of the set file, then what `check` finds, worst first within each
 * piece. Throws a Refusal where the set cannot be read at all.
 */
export function questionsOf(draft: Draft, context: EditContext): Question[] {
  const { sharedFolder } = context;
  const files = setOfDraft(draft, sharedFolder);
  const { patterns, findings } = checkSetFiles(files, sharedFolder);
  const content = shownContent(draft, context);
  const edges = askedEdges(content, readFiles(files, sharedFolder), context);
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
      gap: null,
      ...gapAsked(content, context, piece, finding, at),
    })),
  );
  const order = [null, ...Object.keys(draft.said.pieces)];
  const all = [
    ...leftOutGaps(content, context),
    ...openQuestions(draft, patterns.pieces),
    ...unsaidQuestions(content, context),
    ...undecidedQuestions(edges),
    ...told,
  ].toSorted((a, b) => order.indexOf(a.piece) - order.indexOf(b.piece));
  return worstFirst(all).map((one) => ({ id: idOf(one), ...one }));
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

/** Gaps between long lines in no outline, while it is asked what these are: they may be an outline left open. */
function leftOutGaps(content: DraftContent, { layersOf }: EditContext): Omit<Question, 'id'>[] {
  const block = findBlock(content, leftOutBlock);
  if (block === undefined || content.said.open?.[leftOutKey] === undefined) return [];
  return gapsOfLong(content, block, layersOf(null)).map((gap) => ({
    piece: null,
    severity: 'error',
    rule: 'left-out-gap',
    key: null,
    message: `two ends of lines in no outline are ${decimal(gap.size, 1)} mm apart: they may be an outline that was left open.`,
    todo: 'If it is one, close the gap with a straight line; then say below that it is a piece of its own. If it is none, say below that the rest belongs to no piece.',
    when: null,
    things: [],
    stretches: [],
    at: middleOf(gap),
    near: null,
    gap,
  }));
}

/** What a finding on an open outline asks where a straight line may close it. */
function gapAsked(
  content: DraftContent,
  context: EditContext,
  piece: string | null,
  { rule }: Finding,
  end: Point | null,
): Partial<Question> {
  if (rule !== 'open-contour' || end === null || piece === null) return {};
  const gap = gapAt(content, context, piece, end);
  if (gap === null) return {};
  const message = `two ends of lines do not meet: a gap of ${decimal(gap.size, 1)} mm is left open.`;
  return { gap, message, at: middleOf(gap) };
}

function middleOf({ from, to }: Gap): Spot {
  return [rounded((from[0] + to[0]) / 2, 2), rounded((from[1] + to[1]) / 2, 2)];
}

/** What the set file itself asks, under `open:`. */
function openQuestions({ said }: Draft, read: readonly Piece[]): Omit<Question, 'id'>[] {
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
      gap: null,
    }));
  return [
    ...ask(null, said.open),
    ...Object.entries(said.pieces)
      .flatMap(([piece, entry]) => ask(piece, entry.open))
      .filter((one) => !isAskedAtOther(one, said, read)),
  ];
}

/** Whether a question about the side of a piece is asked at the other half of what may be a pair already. */
function isAskedAtOther(
  { piece, key }: Omit<Question, 'id'>,
  { pieces }: SetSaid,
  read: readonly Piece[],
): boolean {
  if (key !== 'side' || piece === null || !isOneSided(pieces[piece]!)) return false;
  const names = Object.keys(pieces);
  const before = new Set(names.slice(0, names.indexOf(piece)));
  return otherHalves(read, piece).some(
    ({ other }) =>
      before.has(other) &&
      isOneSided(pieces[other]!) &&
      pieces[other]!.side !== pieces[piece]!.side &&
      pieces[other]!.open?.['side'] !== undefined,
  );
}

function isOneSided({ side }: PieceSaid): boolean {
  return side === 'left' || side === 'right';
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

/** Things on layers that say nothing: one question for all that look alike on a piece. */
function unsaidQuestions(content: DraftContent, { layersOf }: EditContext): Omit<Question, 'id'>[] {
  return Object.entries(content.said.pieces).flatMap(([piece, entry]) => {
    const block = findBlock(content, blockNameOf(piece, entry));
    if (block === undefined) return [];
    const map = layersOf(piece);
    const guessOf = new Map(guessesIn(block, map, piece).map((one) => [one.index, one]));
    const groups = new Map<string, number[]>();
    for (const [i, { kind, layer }] of block.entities.entries()) {
      if (kind === 'text' || meaningOf(layer, map) !== null) continue;
      const guess = guessOf.get(i);
      const key = guess === undefined ? layer : alikeKey(guess);
      groups.set(key, [...(groups.get(key) ?? []), i]);
    }
    return [...groups.values()].map((things) =>
      unsaidQuestion(piece, block.entities, map, things, guessOf.get(things[0]!)),
    );
  });
}

function unsaidQuestion(
  piece: string,
  entities: readonly Entity[],
  map: LayerMap,
  things: readonly number[],
  guess: ThingGuess | undefined,
): Omit<Question, 'id'> {
  const first = entities[things[0]!]!;
  const { x, y } = startOfEntity(first);
  const on = `on layer ${first.layer}`;
  const isOne = things.length === 1 || guess?.group.length === things.length;
  const isNested = isInCutout(first, entities, map);
  const several = `${things.length} ${guess === undefined ? 'things' : kindWords[guess.guesses[0]!.kind]}`;
  const one = guess?.guesses[0]?.words ?? thingWords(first);
  return {
    piece,
    severity: 'error',
    rule: 'unknown-layer',
    key: null,
    message: `${isOne ? `what is ${one}, ${on}?` : `what are these ${several}, ${on}?`}${isNested ? ' It lies in a cutout: it may be a piece of its own that was drawn there to save carpet.' : ''}`,
    todo: isNested
      ? 'If it is a piece of its own, press "It is a piece of its own"; if not, say what it is under "What is this?".'
      : 'Say what it is under "What is this?": what it looks like comes first.',
    when: null,
    things,
    stretches: [],
    at: [rounded(x, 2), rounded(y, 2)],
    near: null,
    gap: null,
  };
}

/** Whether a closed line lies wholly in a closed line that is cut out of its piece, where there is no cloth. */
function isInCutout(entity: Entity, entities: readonly Entity[], map: LayerMap): boolean {
  if (entity.kind !== 'path' || !entity.path.closed) return false;
  return entities.some((other) => {
    if (other === entity || other.kind !== 'path' || !other.path.closed) return false;
    const role = meaningOf(other.layer, map)?.role;
    return (
      (role === 'CUTOUT' || role === 'HOLE') &&
      entity.path.vertices.every((at) => placeInPath(other.path, at) === 'inside')
    );
  });
}
