import type { Finding } from './findings.ts';
import { distinctFindings, Refusal } from './findings.ts';
import { deriveParts } from './handing/derive.ts';
import type { Order } from './handing/order.ts';
import type { Materials } from './pattern/material.ts';
import { readMaterials } from './pattern/material.ts';
import type { PatternSet } from './pattern/set.ts';
import { readSet } from './pattern/set.ts';
import { hands } from './pattern/words.ts';

/**
 * Every finding on a set: its drawings and its file, and what deriving it for both hands and all heel
 * pads brings to light. Throws a Refusal where it cannot be read at all.
 */
export function checkSet(folder: string, sharedFolder: string): Finding[] {
  const patterns = readSet(folder, sharedFolder);
  const materials = readMaterials(patterns.materials, sharedFolder);
  const sound = withoutFaulty(patterns);
  const derived = hands.flatMap((hand) =>
    (['driver', 'both', 'none'] as const).flatMap((heelPads) => {
      const order = {
        order: 'check',
        set: patterns.name,
        hand,
        quantity: 1,
        heelPads,
        boards: true,
        underlay: true,
      };
      return derivedFindings(sound, order, materials);
    }),
  );
  return distinctFindings([...patterns.findings, ...derived]);
}

/** What is wrong with a piece as drawn would only be found again, in other words, in its parts. */
function withoutFaulty(patterns: PatternSet): PatternSet {
  const errors = patterns.findings.filter(({ severity }) => severity === 'error');
  const faulty = new Set(errors.map(({ where }) => where.piece));
  return { ...patterns, pieces: patterns.pieces.filter(({ name }) => !faulty.has(name)) };
}

function derivedFindings(
  patterns: PatternSet,
  order: Order,
  materials: Materials,
): readonly Finding[] {
  try {
    return deriveParts(patterns, order, materials).findings;
  } catch (error) {
    if (error instanceof Refusal) return error.findings;
    throw error;
  }
}
