import type { Entity } from '../../drawing/drawing.ts';
import type { Finding, Place } from '../../base/findings.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf, mirrorLayer } from '../layers.ts';
import type { Feature } from '../feature.ts';
import { unfold } from './unfold.ts';

/**
 * Makes a piece whole if a mirror line on the layer of ASTM D6673 says that only one half is drawn;
 * `half` tells whether it does. Everything on a layer with a meaning gets its image, as `unfold` does it.
 */
export function unfoldedContours(
  entities: readonly Entity[],
  map: LayerMap,
  where: Place,
): { entities: readonly Entity[]; half: boolean; findings: readonly Finding[] } {
  const mirror = entities.find(({ kind, layer }) => kind === 'path' && layer === mirrorLayer);
  if (mirror?.kind !== 'path') return { entities, half: false, findings: [] };
  const line = { from: mirror.path.vertices[0]!, to: mirror.path.vertices.at(-1)! };
  const findings: Finding[] = [];
  const whole = entities.flatMap((entity): Entity[] => {
    const role = meaningOf(entity.layer, map)?.role;
    if (entity.kind !== 'path' || role === undefined || role === 'AXIS') return [entity];
    const feature: Feature = {
      role,
      follows: null,
      when: [],
      name: null,
      path: entity.path,
      line: entity.line,
    };
    const made = unfold([feature], line, where);
    findings.push(...made.findings);
    return made.features.map(({ path }) => ({ ...entity, path }));
  });
  return { entities: whole, half: true, findings };
}
