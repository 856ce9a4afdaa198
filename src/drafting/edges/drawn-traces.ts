import type { Entity, PathEntity, TextEntity } from '../../drawing/drawing.ts';
import { pathOfEntity } from '../../drawing/entity-of.ts';
import type { Finding } from '../../base/findings.ts';
import { repeats } from '../../geometry/joining/duplicates.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import { isPresent, positionsOf } from '../../handing/sides.ts';
import type { OptionValues } from '../../pattern/conditions.ts';
import { isMet } from '../../pattern/conditions.ts';
import { edgeNames } from '../../pattern/edge-names.ts';
import { claimEdges, tracedKinds } from '../../pattern/edges.ts';
import type { Feature } from '../../pattern/feature.ts';
import type { LayerMap, LayerMeaning } from '../../pattern/layers.ts';
import { meaningOf } from '../../pattern/layers.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { EdgeKind, Hand } from '../../pattern/words.ts';
import type { Span } from './spans.ts';
import { spanOf } from './spans.ts';

/** A piece whose edges somebody decides, and the block that it was read from. All in mm, in the frame of the block. */
export interface EdgeDraft {
  /** As it is read with `options`. */
  readonly piece: Piece;
  /** What its block holds, as drawn: an index into it is a thing's own. */
  readonly entities: readonly Entity[];
  /** What layers mean on this piece. */
  readonly map: LayerMap;
  /** The hand that is drawn. */
  readonly drawn: Hand;
  /** The usual value of each option of the set. */
  readonly options: OptionValues;
}

/** A line of the block that says what happens to a stretch of the outline. */
export interface DrawnTrace {
  /** Its index among the entities. */
  readonly index: number;
  readonly entity: PathEntity;
  readonly feature: Feature;
  readonly kind: EdgeKind;
  readonly name: string | null;
  /** The index of the text that names it. null: none does. */
  readonly text: number | null;
  /** Where it lies. null: it does not follow the outline, and the findings say why. */
  readonly span: Span | null;
  /** Whether its layer has no suffix: it is always there. */
  readonly isPlain: boolean;
  /** Whether it is there for the hand that is drawn, with the usual options. */
  readonly isThere: boolean;
  /** Whether it repeats one before it, which is read instead. */
  readonly isRepeat: boolean;
}

export interface DrawnTraces {
  /** The net outline. */
  readonly outline: MeasuredPath;
  readonly traces: readonly DrawnTrace[];
  /** What is wrong with single lines, and with texts that name edges. */
  readonly findings: readonly Finding[];
}

/** All traces of the block, with their names and their places on the net outline. */
export function drawnTraces(draft: EdgeDraft): DrawnTraces {
  const { piece, entities, map } = draft;
  const outline = measurePath(piece.outline);
  const lines = traceLines(entities, map);
  const again = repeatsAmong(lines);
  const features = lines.filter((one) => !again.has(one)).map(({ feature }) => feature);
  const named = edgeNames(features, entities, map, piece.where);
  const names = new Map(features.map((feature, i) => [feature, named.features[i]!.name]));
  const texts = textsOf(features, entities, draft);
  const findings: Finding[] = [...named.findings];
  const traces = lines.map((line): DrawnTrace => {
    const { feature } = line;
    const kind = tracedKinds[feature.role]!;
    const claimed = claimEdges(
      piece.outline,
      [{ kind, name: null, path: feature.path, line: feature.line }],
      'raw',
      piece.where,
    );
    const [own] = claimed.stretches;
    findings.push(...claimed.findings);
    return {
      ...line,
      kind,
      name: names.get(feature) ?? null,
      text: texts.get(feature) ?? null,
      span: own === undefined ? null : spanOf(own.from, own.to, outline.length),
      isPlain: isPlainLayer(feature),
      isThere: isThereAsDrawn(feature, draft),
      isRepeat: again.has(line),
    };
  });
  return { outline, traces, findings };
}

/** Whether a layer has no suffix: what lies on it is there for both hands and with all options. */
export function isPlainLayer({ follows, when }: LayerMeaning): boolean {
  return follows === null && when.length === 0;
}

/** Whether what lies on a layer is there on the piece as drawn, with the usual options. */
export function isThereAsDrawn(
  { follows, when }: LayerMeaning,
  { piece, drawn, options }: EdgeDraft,
): boolean {
  const position = positionsOf(piece.entry, drawn, drawn).find(({ mirrored }) => !mirrored);
  return isMet(when, options) && (position === undefined || isPresent(follows, position, drawn));
}

/** A line on a layer of traces. */
type TraceLine = Pick<DrawnTrace, 'index' | 'entity' | 'feature'>;

function traceLines(entities: readonly Entity[], map: LayerMap): TraceLine[] {
  return entities.flatMap((entity, index): TraceLine[] => {
    if (entity.kind !== 'path') return [];
    const meaning = meaningOf(entity.layer, map);
    if (meaning === null || tracedKinds[meaning.role] === undefined) return [];
    const feature = { ...meaning, name: null, path: entity.path, line: entity.line };
    return [{ index, entity, feature }];
  });
}

/** Lines that repeat others of their layer: readers of the set take each once. */
function repeatsAmong(lines: readonly TraceLine[]): ReadonlySet<TraceLine> {
  const layers = [...new Set(lines.map(({ entity }) => entity.layer))];
  return new Set(
    layers.flatMap((layer) => {
      const own = lines.filter(({ entity }) => entity.layer === layer);
      return repeats(own.map(({ entity }) => pathOfEntity(entity))).map((i) => own[i]!);
    }),
  );
}

/** The text that names each line, by its index among the entities. */
function textsOf(
  features: readonly Feature[],
  entities: readonly Entity[],
  { map, piece }: EdgeDraft,
): ReadonlyMap<Feature, number> {
  const texts = new Map<Feature, number>();
  for (const [index, entity] of entities.entries()) {
    if (entity.kind !== 'text') continue;
    const feature = namedBy(entity, features, map, piece);
    if (feature !== null && !texts.has(feature)) texts.set(feature, index);
  }
  return texts;
}

/** The line that a text names. null: none. */
export function namedBy(
  text: TextEntity,
  features: readonly Feature[],
  map: LayerMap,
  { where }: Pick<Piece, 'where'>,
): Feature | null {
  const named = edgeNames(features, [text], map, where).features;
  const found = named.findIndex(({ name }) => name !== null);
  return features[found] ?? null;
}
