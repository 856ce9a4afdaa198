import type { Finding, Place } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';

/** A fault that the proof has found. The files must then not reach the machine. */
export function fault(rule: string, message: string, where: Place): Finding {
  return {
    severity: 'error',
    rule,
    message,
    todo: 'Do not cut from this folder: write it anew, and report the fault if it comes again.',
    where,
  };
}

/**
 * The first fault of each rule, file and part, with the number of others like it: one mistake can show on
 * a thousand lines.
 */
export function firstOfEach(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = [finding.rule, finding.where.file, finding.where.part].join('\n');
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()].map(counted);
}

function counted(group: readonly Finding[]): Finding {
  const first = group[0]!;
  if (group.length === 1) return first;
  return { ...first, message: `${first.message} (${group.length - 1} more like it.)` };
}

/** The value that `read` returns, or the findings of the Refusal that it throws. */
export function attempt<T>(read: () => T): { value: T } | { findings: readonly Finding[] } {
  try {
    return { value: read() };
  } catch (error) {
    if (error instanceof Refusal) return { findings: error.findings };
    throw error;
  }
}
