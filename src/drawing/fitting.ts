import type { ArcFit } from '../geometry/biarc.ts';
import { fitArcs, mostArcs } from '../geometry/biarc.ts';
import type { Curve } from '../geometry/curve.ts';
import { traceOf } from '../geometry/curve.ts';
import { refuse } from '../findings.ts';
import { pathOf } from '../geometry/path.ts';
import { tidied } from './curves.ts';
import type { Entity } from './drawing.ts';
import type { DrawnEntity } from './drawn.ts';
import type { Remark } from './findings.ts';

/** How far arcs may lie from the curve that they stand for, mm. */
export const curveTolerance = 0.02;

function fitOf(curve: Curve, what: string, line: number): ArcFit {
  try {
    return fitArcs(traceOf(curve), 0.9 * curveTolerance);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refuse(
      'curve-too-long',
      `this ${what} (groups 10, 11 and 40) takes more than ${mostArcs} arcs; no pattern has such a curve.`,
      'Its coordinates or the scale of its insert are damaged; mend them and export again.',
      { line },
    );
  }
}

/** The entities with every curve as lines and arcs, and how well these follow it. */
export function fitted(drawn: readonly DrawnEntity[]): { entities: Entity[]; remarks: Remark[] } {
  const entities: Entity[] = [];
  const remarks: Remark[] = [];
  for (const entity of drawn) {
    if (entity.kind !== 'curves') {
      entities.push(entity);
      continue;
    }
    const { layer, line, what, curves, placement } = entity;
    // Aiming a little lower leaves room for what lies between the places that are looked at.
    const fits = curves.map((curve) => fitOf(curve, what, line));
    const segments = fits.flatMap((fit) => fit.segments);
    const { path } = tidied(pathOf(segments, false));
    const remark = { what, layer, line, count: 1 };
    if (path === undefined) {
      remarks.push({ ...remark, kind: 'zero-length', what: '' });
      continue;
    }
    entities.push({ kind: 'path', layer, line, path, ...(placement && { placement }) });
    const deviation = Math.max(...fits.map((fit) => fit.deviation));
    const kinkDeg = Math.max(...fits.map((fit) => fit.kinkDeg));
    const fit = { segments: segments.length, deviation, kinkDeg };
    remarks.push({ ...remark, kind: 'curve-fitted', fit });
  }
  return { entities, remarks };
}
