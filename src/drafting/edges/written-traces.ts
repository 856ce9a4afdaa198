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
  const written = lines.map((line) => ({ line, ...textFor(line, features, outline, draft) }));
  const gone = new Set(
    traces
      .filter(({ span, isPlain }) => span !== null && isPlain)
      .flatMap(({ index, text }) => [index, text]),
  );
  const kept = draft.entities.flatMap((entity, index): (Entity | null)[] => {
    if (!gone.has(index)) return [entity];
    const named = written.find(({ line }) => line.plan.textOf?.text === index);
    const made = lines.filter(({ plan }) => plan.of?.index === index);
    return [...made.map((line) => line.entity), named?.text ?? null];
  });
  const added = written.flatMap(({ line: { plan, entity }, text }) => {
    const isStanding = typeof plan.textOf?.text === 'number';
    return [plan.of === null ? entity : null, isStanding ? null : text];
  });
  const entities = [...kept, ...added].filter((one) => one !== null);
  const isSame =
    entities.length === draft.entities.length &&
    entities.every((entity, i) => entity === draft.entities[i]);
  return {
    entities: isSame ? draft.entities : entities,
    findings: written.flatMap((one) => one.findings),
  };
}

/** The text that names a line: the one it has, if readers give it to this line among `features`. */
function textFor(
  { plan: { of, name, textOf }, feature, path }: WrittenTrace,
  features: readonly Feature[],
  outline: MeasuredPath,
  draft: EdgeDraft,
): { text: TextEntity | null; findings: Finding[] } {
  if (name === null || of?.isRepeat === true) return { text: null, findings: [] };
  const known = typeof textOf?.text === 'number' ? draft.entities[textOf.text] : undefined;
  const own = known?.kind === 'text' ? known : null;
  if (own !== null && namedBy(own, features, draft.map, draft.piece) === feature)
    return { text: own, findings: [] };
  const made = edgeText({ feature, path }, name, features, outline, draft);
  if (made === null) return { text: null, findings: [unnamed(draft, name, path)] };
  const { at, deg, height } = made;
  return { text: own === null ? made : { ...own, at, deg, height }, findings: [] };
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
function pathAlong(outline: MeasuredPath, span: Span): Path {
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
