import { existsSync, realpathSync } from 'node:fs';
import { join, resolve, sep } from 'node:path';
import { refuse } from '../../base/findings.ts';
import { whyNotPortable } from '../../base/names.ts';

/** The folders that the page reads and writes, and none besides. */
export interface Workshop {
  /** Sets and run files. */
  readonly patterns: string;
  /** Materials, cutters, rolls. */
  readonly shared: string;
  /** Run folders. */
  readonly out: string;
}

/** The workshop in a folder. Throws a Refusal where it has no patterns. */
export function workshopIn(folder: string): Workshop {
  const [patterns, shared, out] = ['patterns', 'shared', 'out'].map((name) =>
    join(resolve(folder), name),
  );
  if (!existsSync(patterns!)) {
    refuse(
      'no-workshop',
      'there is no folder "patterns" here.',
      'Start the page in the folder that holds patterns and shared, or name it with --folder.',
      { file: resolve(folder) },
    );
  }
  return { patterns: patterns!, shared: shared!, out: out! };
}

/** What runs, sets, rolls and files may be called. No such name leads out of its folder. */
const plainName = /^[A-Za-z0-9](?:[A-Za-z0-9._-]{0,98}[A-Za-z0-9])?$/;

/**
 * Whether a file lies in a folder, also where links lead. What is not there lies where its name says. No
 * folder lies in itself.
 */
export function liesIn(folder: string, file: string): boolean {
  const [inside, place] = [folder, file].map((path) =>
    existsSync(path) ? realpathSync(path) : resolve(path),
  );
  return place!.startsWith(inside! + sep);
}

/**
 * The path of something in one of the folders. Throws a Refusal where a name is not allowed, or where
 * it leads out of the folder by a link.
 */
export function placeIn(folder: string, ...names: readonly string[]): string {
  for (const name of names) {
    if (plainName.test(name) && !name.includes('..') && whyNotPortable(name) === null) continue;
    refuse(
      'name',
      `"${name.slice(0, 100)}" is no name.`,
      'Use letters, digits, hyphens and points, beginning and ending with a letter or digit, and not the name of a device like CON.',
    );
  }
  const place = join(folder, ...names);
  if (existsSync(place) && !liesIn(folder, place)) {
    refuse(
      'name',
      'this leads out of its folder.',
      'Put the file itself there, not a link to it.',
      {
        file: place,
      },
    );
  }
  return place;
}

/**
 * The path of a file that a run says it was made from, given from the folder of patterns. null where
 * that is neither in patterns nor in shared, since a record may have been tampered with.
 */
export function inputIn({ patterns, shared }: Workshop, file: string): string | null {
  const path = resolve(patterns, file);
  return [patterns, shared].some((folder) => liesIn(folder, path)) ? path : null;
}

export function runFileIn({ patterns }: Workshop, run: string): string {
  return placeIn(patterns, `${run}.yaml`);
}

export function runFolderIn({ out }: Workshop, run: string): string {
  return placeIn(out, run);
}
