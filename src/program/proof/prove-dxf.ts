import type { Drawing, Entity, PathEntity } from '../../drawing/drawing.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { withArticle } from '../../base/wording.ts';
import { turnDeg } from '../../geometry/paths/angle.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { boxContains, boxOfPoints, centreOf, growBox } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { CutKind } from '../../knife/cuts.ts';
import type { CutterLayer } from '../writing/cutter-dxf.ts';
import { cutterLayers, layerOfCut } from '../writing/cutter-dxf.ts';
import type { ExpectedCut, ExpectedPart } from '../record/expected.ts';
import { expectedCuts } from '../record/expected.ts';
import { fault } from './faults.ts';
import { likenessOf } from './likeness.ts';
import { sameArea } from './prove-record.ts';

/** Coordinates and bulges with six decimals move no curve of the size of a roll by more than this, mm. */
const sameContour = 0.01;

/** An inner contour, punched hole or notch of a part, and the line of the drawing where it begins. */
export interface DrawnCut {
  readonly label: string;
  readonly kind: CutKind;
  readonly line: number;
}

/** A part of the lay, and the contour of the drawing that has its label. */
export interface DrawnPart {
  readonly part: ExpectedPart;
  readonly outline: PathEntity;
}

/**
 * Faults of a cutter's drawing, compared with the parts of the lay. Every part must be there once, found
 * by the label in its contour. Each contour must have the right shape and place. All inner contours and
 * notches must be there, and nothing else on the layers that are cut. In the order of the drawing nothing
 * must come free too early.
 */
export function proveDrawing(
  drawing: Drawing,
  parts: readonly ExpectedPart[],
): { findings: Finding[]; drawn: DrawnPart[]; inner: readonly DrawnCut[] } {
  const { drawn, findings } = drawnParts(drawing, parts);
  const found = cutFaults(drawing, parts);
  return {
    drawn,
    inner: found.drawn,
    findings: [
      ...drawing.findings.filter(({ severity }) => severity === 'error'),
      ...strangers(drawing),
      ...findings,
      ...drawn.flatMap(({ part, outline }) => contourFaults(part, outline, drawing.file)),
      ...found.findings,
      ...markFaults(drawing, parts),
      ...labelFaults(drawing),
      ...orderFaults(drawing, drawn),
    ],
  };
}

function onLayer(drawing: Drawing, layer: CutterLayer): PathEntity[] {
  return drawing.entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && entity.layer === layer,
  );
}

/**
 * Faults for entities on layers that a cutter's drawing does not have, and for entities on a layer that
 * is cut which are no cut.
 */
function strangers({ entities, file }: Drawing): Finding[] {
  const known = new Set<string>(cutterLayers.map(({ name }) => name));
  const cut = new Set<string>(Object.values(layerOfCut));
  return entities.flatMap((entity) => {
    const where = placeOf(entity, file);
    if (!known.has(entity.layer)) {
      return [fault('layer', `the drawing has something on the layer ${entity.layer}.`, where)];
    }
    if (!cut.has(entity.layer)) return [];
    if (entity.kind !== 'path') {
      return [
        fault(
          'layer',
          `${withArticle(entity.kind)} is on the layer ${entity.layer}, which is cut.`,
          where,
        ),
      ];
    }
    const closed = entity.layer !== layerOfCut.notch;
    if (entity.path.closed === closed) return [];
    const message = `a path on ${entity.layer} is ${closed ? 'not closed' : 'closed'}.`;
    return [fault('closed', message, where)];
  });
}

function placeOf(entity: Entity, file: string, part?: string): Place {
  const at: Point = entity.kind === 'path' ? centreOf(boxOfPath(entity.path)) : entity.at;
  return { file, line: entity.line, at, ...(part === undefined ? {} : { part }) };
}

/** Finds the outline of each part: a label belongs to the smallest outline round it. */
function drawnParts(
  drawing: Drawing,
  parts: readonly ExpectedPart[],
): { drawn: DrawnPart[]; findings: Finding[] } {
  const { file } = drawing;
  const outlines = onLayer(drawing, 'CUT').filter(({ path }) => path.closed);
  const { named, findings } = namedOutlines(drawing, outlines, parts);
  const drawn: DrawnPart[] = [];
  for (const part of parts) {
    const { label } = part.record;
    const own = outlines.filter((outline) => named.get(outline) === label);
    drawn.push(...own.slice(0, 1).map((outline) => ({ part, outline })));
    if (own.length === 1) continue;
    const there = own.length === 0 ? 'missing' : `there ${own.length} times`;
    const where = own[1] === undefined ? { file, part: label } : placeOf(own[1], file, label);
    findings.push(fault('part-count', `the part is ${there}.`, where));
  }
  return { drawn, findings };
}

/** The label of each outline, and faults of labels. */
function namedOutlines(
  drawing: Drawing,
  outlines: readonly PathEntity[],
  parts: readonly ExpectedPart[],
): { named: ReadonlyMap<PathEntity, string>; findings: Finding[] } {
  const { file } = drawing;
  const known = new Set(parts.map(({ record }) => record.label));
  const named = new Map<PathEntity, string>();
  const findings: Finding[] = [];
  const around = boxIndex(outlines.map(({ path }) => boxOfPath(path)));
  for (const label of drawing.entities) {
    if (label.kind !== 'text' || label.layer !== 'LABEL') continue;
    const where = placeOf(label, file, label.text);
    const near = around(boxOfPoints([label.at])).map((i) => outlines[i]!);
    const outline = outlineAround(label.at, near);
    const other = outline === undefined ? undefined : named.get(outline);
    if (outline === undefined) {
      findings.push(fault('label', 'the label lies in no contour.', where));
    } else if (other !== undefined) {
      findings.push(fault('label', `the contour bears the label ${other} too.`, where));
    } else {
      named.set(outline, label.text);
    }
    if (!known.has(label.text)) {
      findings.push(fault('unknown-part', 'the lay has no such part.', where));
    }
  }
  for (const outline of outlines.filter((one) => !named.has(one))) {
    findings.push(fault('extra-cut', 'a contour bears no label.', placeOf(outline, file)));
  }
  return { named, findings };
}

function outlineAround(at: Point, outlines: readonly PathEntity[]): PathEntity | undefined {
  return outlines
    .filter(({ path }) => placeInPath(path, at) !== 'outside')
    .toSorted((a, b) => areaOf(a.path) - areaOf(b.path))[0];
}

/** Faults in the shape, hand, turn and place of an outline. */
function contourFaults(part: ExpectedPart, outline: PathEntity, file: string): Finding[] {
  const where = placeOf(outline, file, part.record.label);
  const area = areaOf(outline.path);
  const findings: Finding[] = [];
  if (Math.abs(area - part.record.cutArea) > sameArea * part.record.cutArea) {
    const message = `the contour bounds ${area.toFixed(1)} mm2 instead of ${part.record.cutArea.toFixed(1)}.`;
    findings.push(fault('area', message, where));
  }
  if (!sameCurve(part.outline, outline.path, sameContour)) {
    findings.push(fault(...difference(part, outline.path), where));
  }
  return findings;
}

/** The rule and the message for a contour that is not the expected one. */
function difference({ contour, rotation, outline }: ExpectedPart, found: Path): [string, string] {
  const likeness = likenessOf(contour, found, rotation);
  if (likeness === undefined) return ['contour', 'the contour is not that of the part.'];
  if (likeness.mirrored) return ['mirrored', 'the contour is mirrored: this is the other hand.'];
  if (Math.abs(turnDeg(likeness.rotationDeg, rotation)) > 0.01) {
    const turned = `${likeness.rotationDeg.toFixed(2)} degrees instead of ${rotation.toFixed(2)}`;
    return ['turned', `the part is turned by ${turned}: its pile lies wrong.`];
  }
  const right = centreOf(boxOfPath(outline));
  const wrong = centreOf(boxOfPath(found));
  const off = `${(wrong.x - right.x).toFixed(3)}, ${(wrong.y - right.y).toFixed(3)} mm`;
  return ['moved', `the part lies ${off} off its place.`];
}

/**
 * Compares inner contours, punched holes and notches of the parts with those of the drawing, one to one.
 */
function cutFaults(
  drawing: Drawing,
  parts: readonly ExpectedPart[],
): { findings: Finding[]; drawn: DrawnCut[] } {
  const findings: Finding[] = [];
  const drawn: DrawnCut[] = [];
  for (const kind of ['inner', 'punch', 'notch'] as const) {
    const there = onLayer(drawing, layerOfCut[kind]);
    const near = boxIndex(there.map(({ path }) => boxOfPath(path)));
    const left = new Set(there);
    for (const part of parts) {
      for (const { path } of expectedCuts(part).filter((cut) => cut.kind === kind)) {
        const match = near(growBox(boxOfPath(path), sameContour))
          .map((i) => there[i]!)
          .find((one) => left.has(one) && sameCurve(one.path, path, sameContour));
        if (match !== undefined) {
          left.delete(match);
          drawn.push({ label: part.record.label, kind, line: match.line });
        } else findings.push(missing(kind, path, part.record.label, drawing.file));
      }
    }
    for (const extra of left) {
      const message = `the drawing has ${wordCut(kind)} that no part has there.`;
      findings.push(fault('extra-cut', message, placeOf(extra, drawing.file)));
    }
  }
  return { findings, drawn };
}

/** How far a mark may be from its place, mm. */
const sameMark = 0.01;

/** Compares what is shown and not cut with the marks of the parts, one to one. */
function markFaults({ entities, file }: Drawing, parts: readonly ExpectedPart[]): Finding[] {
  const there = entities.filter(({ layer }) => layer === 'MARK');
  const pathOf = (entity: Entity): Path =>
    entity.kind === 'path'
      ? entity.path
      : { closed: false, vertices: [{ ...entity.at, bulge: 0 }] };
  const near = boxIndex(there.map((entity) => boxOfPath(pathOf(entity))));
  const left = new Set(there);
  const findings: Finding[] = [];
  for (const { record, marks } of parts) {
    for (const path of marks) {
      const match = near(growBox(boxOfPath(path), sameMark))
        .map((i) => there[i]!)
        .find((one) => left.has(one) && one.kind !== 'text' && isSameMark(pathOf(one), path));
      if (match !== undefined) {
        left.delete(match);
        continue;
      }
      const at = centreOf(boxOfPath(path));
      findings.push(
        fault('mark-drawn', 'a mark of the part is not drawn.', { file, part: record.label, at }),
      );
    }
  }
  for (const extra of left) {
    const message = 'the drawing has a mark that no part has there.';
    findings.push(fault('mark-drawn', message, placeOf(extra, file)));
  }
  return findings;
}

function isSameMark(found: Path, mark: Path): boolean {
  if (found.vertices.length > 1 && mark.vertices.length > 1)
    return sameCurve(found, mark, sameMark);
  const [a, b] = [found.vertices[0]!, mark.vertices[0]!];
  return found.vertices.length === mark.vertices.length && distance(a, b) <= sameMark;
}

/** The heights that a label may have, mm: it can be read, and no label is larger. */
const labelHeights = [3, 12] as const;

/** Faults of the texts of labels: each is level and has a height that can be read. */
function labelFaults({ entities, file }: Drawing): Finding[] {
  return entities.flatMap((entity) => {
    if (entity.layer !== 'LABEL') return [];
    const where = placeOf(entity, file);
    if (entity.kind !== 'text') {
      return [fault('layer', `${withArticle(entity.kind)} is on the layer LABEL.`, where)];
    }
    const { height, deg } = entity;
    if (height >= labelHeights[0] && height <= labelHeights[1] && deg === 0) return [];
    const message = `a label is ${height} mm high and turned by ${deg} degrees.`;
    return [fault('label', message, { ...where, part: entity.text })];
  });
}

function missing(kind: CutKind, path: Path, part: string, file: string): Finding {
  const at = centreOf(boxOfPath(path));
  return fault('missing-cut', `${wordCut(kind)} of the part is missing.`, { file, part, at });
}

/** A kind of cut in words. */
export function wordCut(kind: ExpectedCut['kind']): string {
  return {
    notch: 'a notch',
    inner: 'an inner contour',
    punch: 'a punched hole',
    mark: 'a registration mark',
    outline: 'the outline',
  }[kind];
}

/** The entities stand in cutting order: what lies inside a closed contour must come before it. */
function orderFaults(drawing: Drawing, drawn: readonly DrawnPart[]): Finding[] {
  const outlines = drawn.map(({ outline }) => outline);
  const inner = [layerOfCut.inner, layerOfCut.punch]
    .flatMap((layer) => onLayer(drawing, layer))
    .filter(({ path }) => path.closed);
  const cuts = [...outlines, ...inner, ...onLayer(drawing, layerOfCut.notch)];
  const near = boxIndex(cuts.map(({ path }) => boxOfPath(path)));
  return [...outlines, ...inner].flatMap((around) =>
    near(boxOfPath(around.path))
      .map((i) => cuts[i]!)
      .filter((cut) => cut.line > around.line && liesWithin(cut.path, around.path))
      .map((cut) => {
        const message = `this path on ${cut.layer} lies inside one on ${around.layer} that comes before it, in line ${around.line}: the carpet would be loose.`;
        const label = drawn.find(({ outline }) => outline === around)?.part.record.label;
        return fault('order', message, placeOf(cut, drawing.file, label));
      }),
  );
}

/** Whether a path lies inside a closed one. It may begin on it, as a notch does. */
function liesWithin(path: Path, outline: Path): boolean {
  return (
    path !== outline &&
    boxContains(growBox(boxOfPath(outline), sameContour), boxOfPath(path)) &&
    path.vertices.every((vertex) => placeInPath(outline, vertex, sameContour) !== 'outside')
  );
}
