import type { Entity } from '../../drawing/drawing.ts';
import { counterClockwise } from '../../geometry/paths/area.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { GuessKind } from './guess-roles.ts';
import { guessRoles } from './guess-roles.ts';
import type { SeenPiece, Sight } from './sight.ts';

/** What is put behind the name of a layer for the things of a kind that were drawn on it. */
const suffixes: Readonly<Partial<Record<GuessKind, string>>> = {
  arrow: 'ARROW',
  'along-outline': 'ALONG',
  'beside-inside': 'BESIDE',
  'beside-outside': 'OUTSIDE',
  'edge-line': 'SHORT',
  'edge-point': 'POINT',
  'edge-to-edge': 'ACROSS',
  'inside-closed': 'CLOSED',
  'inside-line': 'LINE',
  'inside-point': 'DOT',
  'inside-round': 'ROUND',
  'middle-line': 'MIDDLE',
  'off-piece': 'OFF',
  'pad-like': 'LARGE',
};

/**
 * The layer of its own that each thing gets which was drawn on the layer of the outlines, where that says
 * nothing and unlike things are on it: one answer for the layer could not be right for all of them. It
 * says how a thing looks, and not what it is.
 */
export function splitLayers({ pieces }: Sight, map: LayerMap): ReadonlyMap<Entity, string> {
  const outlineLayers = new Set(
    pieces
      .filter(({ outline }) => outline.contour.role === 'unknown')
      .map(({ outline }) => outline.contour.entity.layer.toUpperCase()),
  );
  if (outlineLayers.size === 0) return new Map();
  const kinds = pieces.flatMap((piece) => kindsOn(piece, outlineLayers, map));
  return new Map(
    kinds.flatMap(({ entity, kind, layer }) => {
      const all = new Set(kinds.filter((one) => one.layer === layer).map((one) => one.kind));
      return all.size < 2 ? [] : [[entity, `${layer}-${suffixes[kind] ?? 'OTHER'}`] as const];
    }),
  );
}

function kindsOn(
  { report, outline }: SeenPiece,
  layers: ReadonlySet<string>,
  map: LayerMap,
): { entity: Entity; kind: GuessKind; layer: string }[] {
  const twins = new Set<Entity>(outline.twins.map(({ entity }) => entity));
  const things = [...outline.inner.map(({ entity }) => entity), ...outline.others].filter(
    (entity) => !twins.has(entity),
  );
  const isOnOne = ({ kind, layer }: Entity): boolean =>
    kind !== 'text' && layers.has(layer.toUpperCase()) && meaningOf(layer, map) === null;
  if (!things.some(isOnOne)) return [];
  return guessRoles(things, counterClockwise(outline.contour.path), map, report.name)
    .filter(({ entity }) => isOnOne(entity))
    .map(({ entity, guesses }) => ({
      entity,
      kind: guesses[0]!.kind,
      layer: entity.layer.toUpperCase(),
    }));
}
