import type { Finding } from '../../base/findings.ts';

/** What every refusal is answered with; its status is 4xx or 5xx. */
export interface Refused {
  readonly findings: readonly Finding[];
}
