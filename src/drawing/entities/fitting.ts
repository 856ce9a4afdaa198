import type { ArcFit } from '../../geometry/curves/biarc.ts';
import { fitArcs, mostArcs } from '../../geometry/curves/biarc.ts';
import { traceOf } from '../../geometry/curves/curve.ts';
import { refuse } from '../../base/findings.ts';
import { pathOf } from '../../geometry/paths/path.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { tidied } from './curves.ts';
import type { Entity } from '../drawing.ts';
import type { CurvesEntity, DrawnEntity } from './drawn.ts';
import type { Remark } from '../findings.ts';

/** How far arcs may lie from the curve that they replace, mm. */
const curveTolerance = 0.02;

/** No pattern drawing needs more arcs than these, in one curve and in all. So many take some seconds. */
const most = { inOne: mostArcs, inAll: 100_000 };

/**
 * The entities with every curve replaced by lines and arcs, and remarks that say how well these follow
 * it. Throws a Refusal if there are more than `most`.
 */
export function fitted(drawn: readonly DrawnEntity[]): { entities: Entity[]; remarks: Remark[] } {
  const entities: Entity[] = [];
  const remarks: Remark[] = [];
  let count = 0;
  for (const entity of drawn) {
    if (entity.kind !== 'curves') {
      entities.push(entity);
      continue;
    }
    const { layer, line, what, placement } = entity;
    const fit = fitOf(entity);
    count += fit.segments.length;
    if (count > most.inAll) refuseArcs(`the curves up to this ${what} take`, most.inAll, line);
    const { path } = tidied(pathOf(fit.segments, false));
    const remark = { what, layer, line, count: 1 };
    if (path === undefined) {
      remarks.push({ ...remark, kind: 'zero-length', what: '' });
      continue;
    }
    entities.push({ kind: 'path', layer, line, path, ...(placement && { placement }) });
    remarks.push({
      ...remark,
      kind: 'curve-fitted',
      fit: { ...fit, segments: fit.segments.length },
    });
  }
  return { entities, remarks };
}

/** The lines and arcs for all curves of an entity. */
function fitOf({ curves, what, line }: CurvesEntity): ArcFit {
  const segments: Segment[] = [];
  let [deviation, kinkDeg] = [0, 0];
  for (const curve of curves) {
    // Deviations are only measured at some places. A stricter tolerance leaves room for what lies between
    // them.
    const fit = fitArcs(traceOf(curve), 0.9 * curveTolerance);
    if (fit === undefined) return refuseArcs(`this ${what} takes`, most.inOne, line);
    segments.push(...fit.segments);
    deviation = Math.max(deviation, fit.deviation);
    kinkDeg = Math.max(kinkDeg, fit.kinkDeg);
  }
  return { segments, deviation, kinkDeg };
}

function refuseArcs(subject: string, count: number, line: number): never {
  return refuse(
    'curve-too-long',
    `${subject} more than ${count} arcs (groups 10, 11 and 40); no pattern has such a curve.`,
    'Coordinates or the scale of an insert are damaged; mend them and export again.',
    { line },
  );
}
