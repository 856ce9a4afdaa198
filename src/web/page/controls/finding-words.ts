import type { Finding } from '../../../base/findings.ts';
import { wordPlace } from '../../../base/findings.ts';

/** A finding in words: where in the file, on which piece and at which point; what is wrong; what to do. */
export function findingWords({ message, todo, where }: Finding): string {
  const place = wordPlace(where);
  const words = `${message.charAt(0).toUpperCase()}${message.slice(1)}`;
  return `${place === '' ? '' : `${place}: `}${words} ${todo}`.trim();
}
