/** Sizes of type in a picture of cloth, mm, the largest first. */
const sizes = [220, 160, 130, 110, 90, 72, 60, 50, 42, 36];

/** How wide a letter is and how far lines are apart, in sizes of its type. */
const letter = { width: 0.66, height: 1.15 };

/** Words in lines, with the size of their type in mm. */
interface FittedText {
  readonly lines: readonly string[];
  readonly size: number;
}

/**
 * A name in the largest type in which it has room, mm, broken at its hyphens; null: it has room in none that could be
 * read. Type smaller than `least` cannot.
 */
export function fittedText(
  name: string,
  width: number,
  height: number,
  least: number,
): FittedText | null {
  for (const size of sizes.filter((one) => one >= least)) {
    const letters = Math.floor(width / (size * letter.width));
    const lines = brokenAt(name, letters);
    if (lines !== null && lines.length * size * letter.height <= height) return { lines, size };
  }
  return null;
}

/** The name in lines of at most so many letters; null where one of its words is longer. */
function brokenAt(name: string, letters: number): string[] | null {
  const words = name.split(/(?<=[-\s])/);
  const lines: string[] = [];
  for (const word of words) {
    if (word.length > letters) return null;
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length <= letters)
      lines[lines.length - 1] = last + word;
    else lines.push(word);
  }
  return lines.map((line) => line.trim());
}
