import type { Entity, PathEntity, TextEntity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { stretchAlong } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { middleOfPath } from '../../geometry/paths/path.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Feature } from '../../pattern/feature.ts';
import { pieceWarning } from '../../pattern/findings.ts';
import { meaningOf } from '../../pattern/layers.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import type { DrawnTraces, EdgeDraft } from './drawn-traces.ts';
import { namedBy } from './drawn-traces.ts';
import { edgeText } from './edge-text.ts';
import type { PlannedTrace } from './planned-traces.ts';
import type { Span } from './spans.ts';
import { onRound, spanLength } from './spans.ts';

/** A planned line as an entity and as a reader sees it. */
interface WrittenTrace {
  readonly plan: PlannedTrace;
  readonly entity: PathEntity;
  readonly feature: Feature;
  /** Along the outline. */
  readonly path: Path;
}

/**
 * The entities of a block with these lines in place of all on plain layers that follow the outline. What is as
 * it was stays the same entity; a line made of another takes its place; new lines and texts come last. Names
 * are where readers give each to its line. If nothing changed, the entities are the same array.
 */
export function writtenTraces(
  draft: EdgeDraft,
  { outline, traces }: DrawnTraces,
  planned: readonly PlannedTrace[],
): { entities: readonly Entity[]; findings: Finding[] } {
  const lines = planned.map((plan) => writtenLine(plan, outline, draft));
  const others = traces.filter(
    ({ span, isPlain, isRepeat }) => (span === null || !isPlain) && !isRepeat,
  );
  const features = [
    ...lines.filter(({ plan }) => plan.of?.isRepeat !== true).map(({ feature }) => feature),
    ...others.map(({ feature }) => feature),
  ];
  const findings: Finding[] = [];
  const textFor = (line: WrittenTrace): TextEntity | null => {
    const { plan, feature, path } = line;
    if (plan.name === null || plan.of?.isRepeat === true) return null;
    const known = plan.textOf === null ? undefined : draft.entities[plan.textOf.text ?? -1];
    const own = known?.kind === 'text' ? known : null;
    if (own !== null && namedBy(own, features, draft.map, draft.piece) === feature) return own;
    const made = edgeText({ feature, path }, plan.name, features, outline, draft);
    if (made === null) findings.push(unnamed(draft, plan.name, path));
    return made === null || own === null
      ? made
      : { ...own, at: made.at, deg: made.deg, height: made.height };
  };
  const texts = new Map(lines.map((line) => [line, textFor(line)]));
  const gone = new Set(
    traces
      .filter(({ span, isPlain }) => span !== null && isPlain)
      .flatMap(({ index, text }) => [index, text]),
  );
  const kept = draft.entities.flatMap((entity, index): Entity[] => {
    if (!gone.has(index)) return [entity];
    const made = lines.filter(({ plan }) => plan.of?.index === index).map((line) => line.entity);
    const text = lines.find(({ plan }) => plan.textOf?.text === index);
    return [
      ...made,
      ...[text === undefined ? null : texts.get(text)!].filter((one) => one !== null),
    ];
  });
  const added = lines.flatMap((line): Entity[] => {
    const text = line.plan.textOf?.text == null ? texts.get(line)! : null;
    return [...(line.plan.of === null ? [line.entity] : []), ...(text === null ? [] : [text])];
  });
  const entities = [...kept, ...added];
  const isSame =
    entities.length === draft.entities.length &&
    entities.every((entity, i) => entity === draft.entities[i]);
  return { entities: isSame ? draft.entities : entities, findings };
}

function writtenLine(plan: PlannedTrace, outline: MeasuredPath, { map }: EdgeDraft): WrittenTrace {
  const path = pathAlong(outline, plan.span);
  const { of } = plan;
  const isAsDrawn = of !== null && isSameSpan(plan.span, of.span!, outline.length);
  const entity: PathEntity = isAsDrawn
    ? of.entity
    : { ...(of?.entity ?? newLine(plan.kind)), path };
  const meaning = meaningOf(entity.layer, map)!;
  return {
    plan,
    entity,
    feature: { ...meaning, name: null, path: entity.path, line: entity.line },
    path,
  };
}

function newLine(kind: EdgeKind): Omit<PathEntity, 'path'> {
  return { kind: 'path', layer: kind.toUpperCase(), line: 0 };
}

/** The part of an outline in a span: the outline itself if it is all of it. */
export function pathAlong(outline: MeasuredPath, span: Span): Path {
  if (spanLength(span) >= outline.length) return outline.path;
  return stretchAlong(outline, span.from, onRound(span.to, outline.length));
}

function isSameSpan(a: Span, b: Span, round: number): boolean {
  const isWhole = (one: Span): boolean => spanLength(one) >= round;
  if (isWhole(a) && isWhole(b)) return true;
  return Math.abs(a.from - b.from) <= samePoint && Math.abs(a.to - b.to) <= samePoint;
}

function unnamed({ piece }: EdgeDraft, name: string, path: Path): Finding {
  return pieceWarning(
    piece,
    {
      rule: 'edge-unnamed',
      message: `the edge "${name}" lies so near to others of its kind that no text can name it: it has no name now.`,
      todo: 'Make it longer, or give it and its neighbour one name.',
    },
    { at: middleOfPath(path) },
  );
}
