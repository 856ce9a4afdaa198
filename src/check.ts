import type { Finding } from './findings.ts';
import { deriveParts } from './handing/derive.ts';
import { readMaterial } from './pattern/material.ts';
import { materialNames, readSet } from './pattern/set.ts';
import { hands } from './pattern/words.ts';

/**
 * Every finding on a set: its drawings and its file, and what deriving it for both hands and all heel
 * pads brings to light. Throws a Refusal where it cannot be read at all.
 */
export function checkSet(folder: string, sharedFolder: string): Finding[] {
  const patterns = readSet(folder, sharedFolder);
  const names = materialNames(patterns);
  const materials = new Map(names.map((name) => [name, readMaterial(sharedFolder, name)]));
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
      return deriveParts(patterns, order, 1, materials).findings;
    }),
  );
  return distinctFindings([...patterns.findings, ...derived]);
}

/** Each finding once, though several hands or sets raise it. */
export function distinctFindings(findings: readonly Finding[]): Finding[] {
  return [...new Map(findings.map((finding) => [JSON.stringify(finding), finding])).values()];
}
