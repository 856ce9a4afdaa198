import type { Material } from './material.ts';

type Sided = Pick<Material, 'kind' | 'turns'>;

/** Whether a material has a pile that leans: only a carpet has, and none that may be turned as it fits. */
export function hasPile({ kind, turns }: Sided): boolean {
  return kind === 'carpet' && turns !== 'any';
}

/** The face of a material, in words that follow "with": the side that lies up, or down on the bed. */
export function faceOf(material: Sided): string {
  if (hasPile(material)) return 'the pile';
  return material.kind === 'carpet' || material.kind === 'rubber'
    ? 'the side that will be seen'
    : 'the side that goes against the carpet';
}
