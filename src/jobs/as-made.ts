import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { hasErrors } from '../base/findings.ts';
import { sha256 } from '../base/sha256.ts';
import { readRunRecord } from '../program/record/record.ts';
import { listName } from '../publishing/file-list.ts';
import { readJob } from '../run/job.ts';
import type { CutRequest } from './cut.ts';
import { proveFolder } from './prove.ts';

/** What tells the files of a run folder from all others: the SHA-256 of the list of them. null: there is none. */
export function listOf(folder: string): string | null {
  const file = join(folder, listName);
  if (statSync(file, { throwIfNoEntry: false })?.isFile() !== true) return null;
  return sha256(readFileSync(file));
}

/**
 * Whether a cut would write the very files that stand in its folder. `made`: the list of the files (see
 * listOf) as this program has written it there by a cut with no wishes of its own: the same inputs give the
 * same bytes, so it is enough that these are as they were, and that the proof still finds nothing wrong.
 * Throws a Refusal where the run is refused.
 */
export function isAsMade(
  { runFile, sharedFolder, out }: Pick<CutRequest, 'runFile' | 'sharedFolder' | 'out'>,
  made: string,
): boolean {
  if (listOf(out) !== made) return false;
  const { inputs } = readRunRecord(join(out, 'run.json'));
  const base = dirname(runFile);
  const isAsRead = inputs.every(({ file, sha256: hash }) => hashOf(join(base, file)) === hash);
  // A file that was not there may be read now: only the run itself tells.
  if (!isAsRead || !isDeepStrictEqual(readJob(runFile, sharedFolder).inputs, inputs)) return false;
  return !hasErrors(proveFolder(out).findings);
}

function hashOf(file: string): string | null {
  const isFile = statSync(file, { throwIfNoEntry: false })?.isFile() === true;
  return isFile ? sha256(readFileSync(file)) : null;
}
