import type { Finding } from '../../../base/findings.ts';
import { wordPlace } from '../../../base/findings.ts';
import { capital } from '../words.ts';

/** A finding in words: where in the file, on which piece and at which point; what is wrong; what to do. */
export function findingWords({ message, todo, where }: Finding): string {
  const place = wordPlace(where);
  return `${place === '' ? '' : `${place}: `}${capital(message)} ${todo}`.trim();
}
