import type { Finding } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { piecesNamedIn } from '../../pattern/pieces-named.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { benchFacts } from '../bench-facts.ts';
import type { LayingLink } from '../laying-order.ts';
import { layingOrder } from '../laying-order.ts';
import type { Part } from '../part.ts';

/**
 * Rule: what is sewn together can be laid as one thing, after all that goes under it and before all that covers it.
 * That pieces by themselves go under each other in a circle is told of the set file already.
 */
export function checkLayingOrder(
  parts: readonly Part[],
  patterns: PatternSet,
  materials: Materials,
): Finding[] {
  // A circle needs an edge that goes under another piece, and most sets name none.
  const texts = new Set(
    parts.flatMap(({ edges }) => edges.flatMap(({ hiddenBy }) => hiddenBy ?? [])),
  );
  const { content } = patterns;
  if (![...texts].some((text) => piecesNamedIn(text, content).length > 0)) return [];
  const bench = benchFacts(parts, patterns, materials);
  const { circle } = layingOrder(parts, new Map(bench.map((one) => [one.part, one])), patterns);
  if (circle.length === 0 || isOfPieces(circle)) return [];
  return [
    {
      severity: 'warning',
      rule: 'laying-circle',
      message: `nothing can be laid first: ${listed(circle.map(wordLink))}. The fitting sheet gives an order that does not hold for all of these.`,
      todo: 'Correct what one of them goes under ("tucked:" or "covered:"), or what is sewn together ("seams:").',
      where: patterns.placeOf(['pieces', circle[0]!.lower.piece]),
    },
  ];
}

/** Whether each piece goes under the next one by the words of the set file alone. */
function isOfPieces(circle: readonly LayingLink[]): boolean {
  return circle.every(
    ({ lower, why }, i) =>
      why === 'under' && circle[(i + 1) % circle.length]!.upper.piece === lower.piece,
  );
}

function wordLink({ lower, upper, why }: LayingLink): string {
  switch (why) {
    case 'with':
      return `${lower.name} goes with ${upper.name} and before it`;
    case 'on':
      return `${upper.name} lies on ${lower.name}`;
    case 'under':
      return `${lower.name} goes under ${upper.name}`;
  }
}
