import type { Comparison } from './compare.ts';
import { ranksOf, verdictWord } from './lines.ts';

/**
 * A comparison as lines of text: what matters most, then the differences under a heading for each rank, what was
 * not compared, and a summary.
 */
export function comparisonLines(comparison: Comparison): string[] {
  const { before, after, kind, tolerance, sameBytes, differences, sentence, notes } = comparison;
  if (sameBytes) return [`${before} and ${after} are equal, byte for byte.`];
  if (differences.length === 0) {
    return [
      `${before} and ${after} are equal as ${kind}s: geometry to ${tolerance} mm, and words.`,
      ...notes,
    ];
  }
  const ranks = ranksOf(differences);
  const rows = ranks.flatMap(({ lines }) => lines);
  const width = (column: 'what' | 'where'): number =>
    Math.min(60, Math.max(...rows.map((row) => row[column].length)));
  const counts = new Map<string, number>();
  for (const word of differences.map(verdictWord)) counts.set(word, (counts.get(word) ?? 0) + 1);
  const summed = [...counts].map(([word, count]) => `${count} ${word.toLowerCase()}`).join(', ');
  return [
    sentence,
    ...ranks.flatMap(({ heading, lines }) => [
      '',
      heading,
      ...lines.map(
        ({ what, where, words }) =>
          `${what.padEnd(width('what'))}  ${where.padEnd(width('where'))}  ${words}`,
      ),
    ]),
    '',
    ...notes,
    `${before} and ${after} differ: ${summed}; geometry to ${tolerance} mm.`,
  ];
}

/** A comparison as JSON: the lines of each rank with their differences, lengths in mm. */
export function comparisonJson({ differences, notes, ...about }: Comparison): string {
  const ranks = ranksOf(differences).map(({ matter, ...rank }) => ({ rank: matter, ...rank }));
  return JSON.stringify({ ...about, ranks, notes }, null, 2);
}
