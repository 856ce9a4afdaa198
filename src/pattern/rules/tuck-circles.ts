import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { listed } from '../../base/wording.ts';
import { piecesNamedIn } from '../pieces-named.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';

/**
 * Rule: pieces do not go under each other in a circle, because then none can be fitted last. What a piece
 * goes under is free text, in which pieces are meant by their names or titles. `absent`: the pieces that vehicles
 * with these options do not have.
 */
export function checkTuckCircles(
  { value, placeOf }: YamlFile<SetContent>,
  absent: ReadonlySet<string>,
): Finding[] {
  const names = Object.keys(value.pieces).filter((name) => !absent.has(name));
  const over = new Map(
    names.map((name) => [name, piecesOver(value.pieces[name]!, value, names)] as const),
  );
  const told = new Set<string>();
  return names.flatMap((name): Finding[] => {
    const circle = circleFrom(name, over);
    if (circle === null || circle.some((one) => told.has(one))) return [];
    for (const one of circle) told.add(one);
    const words = circle.map((one, i) => `"${one}" under "${circle[(i + 1) % circle.length]!}"`);
    return [
      {
        severity: 'warning',
        rule: 'tuck-circle',
        message: `the set file puts ${listed(words)}: in a circle, so that none can be fitted last.`,
        todo: 'Correct what one of them goes under: "tucked:" or "covered:".',
        where: { ...placeOf(['pieces', name]), piece: name },
      },
    ];
  });
}

function piecesOver(
  { tucked, covered }: PieceEntry,
  content: SetContent,
  names: readonly string[],
): string[] {
  const texts = [tucked, covered].flatMap((said) =>
    said === undefined ? [] : typeof said === 'string' ? [said] : Object.values(said),
  );
  return texts.flatMap((text) => piecesNamedIn(text, content, names));
}

/** The shortest way from a piece over what lies on it back to itself; null if there is none. */
function circleFrom(
  start: string,
  over: ReadonlyMap<string, readonly string[]>,
): readonly string[] | null {
  const seen = new Set<string>();
  let ways: string[][] = [[start]];
  while (ways.length > 0) {
    const next: string[][] = [];
    for (const way of ways) {
      for (const one of over.get(way.at(-1)!) ?? []) {
        if (one === start) return way;
        if (seen.has(one)) continue;
        seen.add(one);
        next.push([...way, one]);
      }
    }
    ways = next;
  }
  return null;
}
