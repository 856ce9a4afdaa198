import { z } from 'zod';
import { nameBound, noteBound, shortBound, titleBound } from './text-bounds.ts';

/** What files and folders may be called so that every system takes them, and what people may write. */

/** Names that stand for devices on Windows, with any ending. */
const devices = /^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(?:\.|$)/i;

/** What FAT and Windows allow in no name, and control characters. */
const forbidden = /[<>:"/\\|?*]|\p{Cc}/u;

/**
 * Why a file or folder of this name cannot be kept on every system, in words that follow the name; null if
 * it can. Source of the rules: Microsoft, "Naming Files, Paths, and Namespaces".
 */
export function whyNotPortable(name: string): string | null {
  if (name.length > 150) return `has ${name.length} letters, and 150 are the most`;
  if (devices.test(name)) return 'is the name of a device on Windows';
  const [letter] = forbidden.exec(name) ?? [];
  if (letter !== undefined)
    return `has the sign ${JSON.stringify(letter)}, which Windows does not take`;
  return /[. ]$|^$/.test(name) ? 'ends with a point or a space, or is empty' : null;
}

/** What is put behind the name of a program that must not be cut. */
export const withdrawnEnding = '.withdrawn';

/** A title as it stands at the head of papers. */
export const titleText = z.string().min(1).max(titleBound.most, titleBound.why);

/** Words on a label or in a table: a colour, a dye lot. */
export const shortText = z.string().min(1).max(shortBound.most, shortBound.why);

/** A note of a few sentences, printed where somebody reads it. */
export const noteText = z.string().min(1).max(noteBound.most, noteBound.why);

/** Small letters and digits joined by single hyphens: what files and layers may be called after. */
export const plainName = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'a name is small letters and digits joined by single hyphens');

/** The most letters of a name that goes into names of files and onto labels. */
export const longestName = nameBound.most;
