import type { Finding } from '../findings.ts';
import { placeInPath } from '../geometry/contains.ts';
import { pathCrossings } from '../geometry/crossings.ts';
import type { Path } from '../geometry/path.ts';
import { alongPath, pathLength } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Materials } from '../pattern/material.ts';
import { materialOf } from '../pattern/material.ts';
import type { Part } from './part.ts';

/** What is wrong with the parts of one set, as this hand and these options make them. */
export function checkParts(parts: readonly Part[], materials: Materials): Finding[] {
  return [
    ...parts.flatMap(checkCutouts),
    ...parts.flatMap((part) => checkPile(part, materials)),
    ...parts.flatMap(checkRawEdges),
    ...checkNames(parts),
  ];
}

function finding(part: Part, rule: string, message: string, todo: string, at?: Point): Finding {
  const where = { piece: part.piece, part: part.name, ...(at === undefined ? {} : { at }) };
  return { severity: 'error', rule, message, todo, where };
}

/** Cutouts lie inside their part and apart from each other, or two cuts run into one. */
function checkCutouts(part: Part): Finding[] {
  return part.inner.flatMap(({ role, path }, i) => {
    const outside = escape(part.net, path);
    if (outside !== null) {
      const todo = 'Move it inside, or make it part of the outline.';
      return [
        finding(
          part,
          'cutout-outside',
          `a ${role} crosses, touches or lies outside the outline.`,
          todo,
          outside,
        ),
      ];
    }
    const other = part.inner.slice(i + 1).find((next) => overlap(path, next.path));
    if (other === undefined) return [];
    const message = `a ${role} and a ${other.role} overlap in this hand.`;
    return [
      finding(part, 'cutouts-overlap', message, 'Move one, or draw them as one.', path.vertices[0]),
    ];
  });
}

/** A point of the inner path that is not inside the outer one. */
function escape(outer: Path, inner: Path): Point | null {
  const crossing = pathCrossings(outer, inner)[0];
  if (crossing !== undefined) return crossing;
  return placeInPath(outer, inner.vertices[0]!) === 'inside' ? null : inner.vertices[0]!;
}

function overlap(a: Path, b: Path): boolean {
  return (
    pathCrossings(a, b).length > 0 ||
    placeInPath(a, b.vertices[0]!) !== 'outside' ||
    placeInPath(b, a.vertices[0]!) !== 'outside'
  );
}

function checkPile(part: Part, materials: Materials): Finding[] {
  const { turns, title } = materialOf(materials, part.material);
  if (turns === 'any' || part.pileDeg !== null) return [];
  const message = `nothing says which way the pile runs, and ${title} may not be turned freely.`;
  return [finding(part, 'no-pile', message, 'Draw a PILE line in the piece, from tail to head.')];
}

function checkRawEdges(part: Part): Finding[] {
  const raw = part.edges.filter(({ kind, onShow }) => kind === 'raw' && onShow);
  return raw.map(({ name, path }) => {
    const message = `nothing is said to cover the raw edge${name === null ? '' : ` "${name}"`} of ${pathLength(path).toFixed(0)} mm.`;
    const todo = 'Add "covered:" to the piece, or bind the edge.';
    return finding(part, 'raw-on-show', message, todo, midpoint(path));
  });
}

function checkNames(parts: readonly Part[]): Finding[] {
  const seen = new Set<string>();
  return parts.flatMap((part) => {
    if (!seen.has(part.name)) {
      seen.add(part.name);
      return [];
    }
    const message = `two parts of a set would both be labelled "${part.name}".`;
    return [finding(part, 'same-label', message, 'Rename a piece, or keep one heel pad a side.')];
  });
}

function midpoint(path: Path): Point {
  return alongPath(path, pathLength(path) / 2).point;
}
