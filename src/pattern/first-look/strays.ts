import type { Entity } from '../../drawing/drawing.ts';
import { startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding } from '../../base/findings.ts';
import { decimal } from '../../base/numbers.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import { thingWords } from '../unknown-layers.ts';

/** So many places of things that lie in no outline are told for a layer. */
export const mostPlaces = 3;

/**
 * Findings on what belongs to no piece, one for each layer, with the places of the first. Texts and notes
 * may stand anywhere.
 */
export function strayFindings(stray: readonly Entity[], map: LayerMap, file: string): Finding[] {
  const counted = stray.filter(
    ({ kind, layer }) => kind !== 'text' && meaningOf(layer, map)?.role !== 'NOTE',
  );
  const layers = [...new Set(counted.map(({ layer }) => layer))];
  return layers.map((layer) => {
    const own = counted.filter((entity) => entity.layer === layer);
    const words =
      own.length === 1 ? 'lies in no outline and belongs' : 'lie in no outline and belong';
    return {
      severity: 'warning',
      rule: 'in-no-outline',
      message: `${own.length} on layer ${layer} ${words} to no piece: ${placesWords(own)}.`,
      todo: 'Draw it on its piece, or on NOTE if it is only to be read.',
      where: { file, line: own[0]!.line, at: startOfEntity(own[0]!) },
    };
  });
}

/** What things are and where, in the frame of the drawing: `a point at 700, 20`. */
export function placesWords(entities: readonly Entity[]): string {
  const told = entities.slice(0, mostPlaces).map((entity) => {
    const { x, y } = startOfEntity(entity);
    return `${thingWords(entity)} at ${decimal(x, 1)}, ${decimal(y, 1)}`;
  });
  const rest = entities.length - told.length;
  return `${told.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}`;
}
