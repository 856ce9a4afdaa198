import { distinctFindings, refuseErrors } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { identity } from '../../geometry/paths/transform.ts';
import { deriveParts } from '../../handing/derive.ts';
import type { Order } from '../../handing/order.ts';
import { choiceOf } from '../../handing/order-choices.ts';
import type { Part } from '../../handing/part.ts';
import type { Change } from '../../handing/redrawing/changes.ts';
import { changesOf } from '../../handing/redrawing/changes.ts';
import { boxOfChanges } from '../../papers/pictures/hands/hands-picture.ts';
import type { ShownHand } from '../../papers/pictures/hands/shown-hand.ts';
import { shownHand } from '../../papers/pictures/hands/shown-hand.ts';
import { pathData } from '../../papers/svg/svg.ts';
import { changesTable } from '../../papers/tables/changes-table.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { readSet } from '../../pattern/set.ts';
import { clothName } from '../../pattern/shop/cloth.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { readMaterials } from '../../pattern/shop/material.ts';
import { choiceFindings, orderFindings } from '../../run/check-orders.ts';
import type { Plan, PlanShape } from '../api/orders.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn } from '../workshop/workshop.ts';

/**
 * Draws the vehicle's plan with what an order contains, for the hand of drive that is ordered and for
 * the one that is drawn. Throws a Refusal where the set has errors.
 */
export function plan({ shop, order }: { shop: Workshop; order: Order }): Plan {
  const patterns = readSet(placeIn(shop.patterns, order.set), shop.shared, choiceOf(order));
  refuseErrors(patterns.findings);
  refuseErrors(choiceFindings(order, patterns, shop.shared, () => ({})));
  const materials = readMaterials(patterns.materials, shop.shared);
  const changes = changesOf(patterns, order);
  const { drawn } = patterns.content;
  const one = { ...order, quantity: 1 };
  const ordered = deriveParts(patterns, one, materials);
  const findings = distinctFindings([...patterns.findings, ...ordered.findings]);
  refuseErrors(findings);
  const asked = { order: one, set: patterns, parts: ordered.parts, whole: ordered.whole };
  const wanted = new Set(ordered.parts.map(({ piece }) => piece));
  const { minX, minY, maxX, maxY } = boxOfChanges(changes);
  return {
    drawn,
    hand: order.hand,
    before: shapesOf(
      shownHand(changes, 'before', identity),
      wanted,
      padsOf(patterns, { ...one, hand: drawn }, materials),
    ),
    after: shapesOf(shownHand(changes, 'after', identity), wanted, padPaths(ordered.parts)),
    box: [minX, minY, maxX, maxY],
    changes: movedOnly(changes),
    parts: ordered.parts.map((part) => {
      const { x, y } = centreOf(boxOfPath(part.net));
      const { name, kind, side, material, colour, piece } = part;
      const cloth = clothName(material, colour);
      return { name, kind, side, cloth, piece, at: [rounded(x, 1), rounded(y, 1)] };
    }),
    // What is wrong with the order itself is told beside its plan.
    findings: [...findings, ...orderFindings(asked, materials, () => ({}))],
  };
}

function padsOf(patterns: PatternSet, order: Order, materials: Materials): Path[] {
  return padPaths(deriveParts(patterns, order, materials).parts);
}

/** Heel pads, whether or not they are parts of their own. */
function padPaths(parts: readonly Part[]): Path[] {
  return parts
    .filter(({ kind }) => kind === 'piece')
    .flatMap(({ marks }) => marks.filter(({ role }) => role === 'PAD').map(({ path }) => path));
}

function shapesOf(
  { pieces, marked }: ShownHand,
  wanted: ReadonlySet<string>,
  pads: readonly Path[],
): PlanShape[] {
  const plain = { moved: false, alone: false, left: false, lines: '' };
  return [
    ...pieces.map(({ name, outline, holes, lines, hasMoved, isAlone }): PlanShape => ({
      name,
      d: [outline, ...holes].map(pathData).join(''),
      lines: lines.map(pathData).join(''),
      kind: 'piece',
      moved: hasMoved,
      alone: isAlone,
      left: !wanted.has(name),
    })),
    ...marked
      .filter(({ feature }) => feature.role !== 'PAD')
      .map(({ feature, path, isAlone }): PlanShape => ({
        name: feature.role.toLowerCase(),
        d: path.vertices.length === 1 ? pointMark(path) : pathData(path),
        lines: '',
        kind: 'mark',
        moved: true,
        alone: isAlone,
        left: false,
      })),
    ...pads.map((path): PlanShape => ({
      name: 'heel pad',
      d: pathData(path),
      kind: 'pad',
      ...plain,
    })),
  ];
}

/** The mark for a point: a small cross; SVG path data, mm. */
function pointMark({ vertices }: Path): string {
  const { x, y } = vertices[0]!;
  return `M${x - 12} ${y}L${x + 12} ${y}M${x} ${y - 12}L${x} ${y + 12}`;
}

function movedOnly(changes: readonly Change[]): Plan['changes'] {
  const { rows } = changesTable(changes.filter(({ moved }) => moved));
  return rows.map(([piece, feature, , from, to, why]) => ({
    what: feature === 'outline' ? piece! : `${feature!.toLowerCase()} on ${piece!}`,
    from: from!,
    to: to!,
    why: why!,
  }));
}
