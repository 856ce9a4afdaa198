import type { PicturedPart } from '../../../../src/web/api/pictured.ts';

/** A part of 100 x 60 mm with its corner in its origin. */
export function picturedPart(label: string, changes: Partial<PicturedPart> = {}): PicturedPart {
  return {
    label,
    name: 'cab-floor',
    piece: 'cab-floor',
    kind: 'carpet',
    side: null,
    hand: 'RHD',
    order: '1041',
    set: 1,
    material: 'carpet-loop',
    colour: null,
    d: 'M0 0L100 0L100 60L0 60Z',
    ring: [0, 0, 100, 0, 100, 60, 0, 60],
    box: [0, 0, 100, 60],
    marks: '',
    at: [50, 30],
    pileDeg: 0,
    turns: [0, 180],
    edges: [],
    next: [],
    neighbours: [],
    ...changes,
  };
}
