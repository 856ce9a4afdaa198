import type { Finding } from '../base/findings.ts';
import { distinctFindings, hasErrors, Refusal } from '../base/findings.ts';
import { deriveParts } from '../handing/derive.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import { neverProduced } from '../handing/rules/never-produced.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { readMaterials } from '../pattern/shop/material.ts';
import type { PatternSet } from '../pattern/set.ts';
import { readSet } from '../pattern/set.ts';
import { hands } from '../pattern/words.ts';

/**
 * All findings on a set: those on its drawings and its set file, and those that come up when its parts
 * are derived for each hand and each choice of heel pads. Throws a Refusal if the set cannot be read at
 * all.
 */
export function checkSet(
  folder: string,
  sharedFolder: string,
): { patterns: PatternSet; findings: Finding[] } {
  const patterns = readSet(folder, sharedFolder);
  const materials = readMaterials(patterns.materials, sharedFolder);
  const sound = withoutFaulty(patterns);
  const derived = ordersOfAll(patterns).map((order) => derivedOrRefused(sound, order, materials));
  const found = [...patterns.findings, ...derived.flatMap(({ findings }) => findings)];
  const all = derived.flatMap(({ parts }) => parts);
  const never = hasErrors(found) ? [] : neverProduced(patterns, all);
  return { patterns, findings: distinctFindings([...found, ...never]) };
}

/** One order for each combination of hand and heel pads. */
function ordersOfAll({ name }: PatternSet): Order[] {
  return hands.flatMap((hand) =>
    (['driver', 'both', 'none'] as const).map((heelPads) => ({
      order: 'check',
      set: name,
      hand,
      quantity: 1,
      heelPads,
      boards: true,
      underlay: true,
    })),
  );
}

/**
 * The set without pieces that have errors as drawn: their parts would only show the same errors again in
 * other words.
 */
function withoutFaulty(patterns: PatternSet): PatternSet {
  const errors = patterns.findings.filter(({ severity }) => severity === 'error');
  const faulty = new Set(errors.map(({ where }) => where.piece));
  return { ...patterns, pieces: patterns.pieces.filter(({ name }) => !faulty.has(name)) };
}

function derivedOrRefused(
  patterns: PatternSet,
  order: Order,
  materials: Materials,
): { parts: readonly Part[]; findings: readonly Finding[] } {
  try {
    return deriveParts(patterns, order, materials);
  } catch (error) {
    if (error instanceof Refusal) return { parts: [], findings: error.findings };
    throw error;
  }
}
