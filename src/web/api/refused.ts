import type { Finding } from '../../base/findings.ts';

/** What every refusal comes as, with status 4xx or 5xx. */
export interface Refused {
  readonly findings: readonly Finding[];
}
