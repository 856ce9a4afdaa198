import type { Finding, Severity } from '../base/findings.ts';

type RemarkKind =
  | 'not-read'
  | 'left-out'
  | 'hidden'
  | 'zero-length'
  | 'not-level'
  | 'in-space'
  | 'interpolated'
  | 'curve-fitted';

/** Why an entity is missing from the drawing, or what is different about it there than in the file. */
export interface Remark {
  readonly kind: RemarkKind;
  /** The entity's type, or why it is hidden. */
  readonly what: string;
  readonly layer: string;
  readonly line: number;
  /** How many entities this is about; for `zero-length`, how many segments. */
  readonly count: number;
  readonly todo?: string;
  /** For `curve-fitted`: how well the arcs follow the curve. */
  readonly fit?: CurveFit;
}

/**
 * How lines and arcs follow curves: how many there are, how far off at most (mm), and the largest kink
 * (degrees).
 */
interface CurveFit {
  readonly segments: number;
  readonly deviation: number;
  readonly kinkDeg: number;
}

interface RemarkWording {
  readonly severity: Severity;
  readonly message: (remark: Remark) => string;
  readonly todo: string;
}

const wordings: Readonly<Record<RemarkKind, RemarkWording>> = {
  'not-read': {
    severity: 'error',
    message: ({ what, layer, count }) =>
      `${what} on layer ${layer} cannot be read${also(count)}; the drawing is not complete without it.`,
    todo: 'Redraw it as lines, arcs or polylines and export again.',
  },
  'left-out': {
    severity: 'note',
    message: ({ what, layer, count }) => `${what} on layer ${layer} is left out${also(count)}.`,
    todo: 'Nothing to do unless it was meant to be cut: then draw its outline.',
  },
  hidden: {
    severity: 'warning',
    message: ({ what, layer, count }) =>
      `${count} ${count === 1 ? 'entity' : 'entities'} on layer ${layer} left out: ${what}.`,
    todo: 'Show it where it belongs to the pattern, or delete it from the drawing.',
  },
  'zero-length': {
    severity: 'note',
    message: ({ layer, count }) =>
      `${count} ${count === 1 ? 'segment' : 'segments'} of no length on layer ${layer} left out.`,
    todo: 'Nothing to do.',
  },
  'not-level': {
    severity: 'warning',
    message: ({ what, layer, count }) =>
      `${what} on layer ${layer} rises out of the sheet${also(count)}; it is flattened: read as seen from above, shorter than it is.`,
    todo: 'Draw it flat.',
  },
  'in-space': {
    severity: 'note',
    message: ({ what, layer, count }) =>
      `${what} on layer ${layer} is flattened${also(count)}; it lies level, and nothing is lost.`,
    todo: 'Nothing to do.',
  },
  interpolated: {
    severity: 'warning',
    message: ({ what, layer, count }) =>
      `${what} on layer ${layer} gives points it passes through and nothing between them${also(count)}; a smooth cubic is laid through these.`,
    todo: 'Compare the picture with the drawing, or export it with control points.',
  },
  'curve-fitted': {
    severity: 'note',
    message: ({ what, layer, count, fit }) =>
      `${what} on layer ${layer} is read as ${fit!.segments} lines and arcs${also(count)}, at most ${fit!.deviation.toFixed(4)} mm off, with no kink over ${fit!.kinkDeg.toFixed(3)} degrees.`,
    todo: 'Nothing to do.',
  },
};

function also(count: number): string {
  return count === 1 ? '' : ` (${count} of them, the first here)`;
}

/**
 * One finding for all remarks of the same kind, entity type and layer, at the first of them. In the order
 * of the file. `block`: the block in which they stand.
 */
export function findingsOf(remarks: readonly Remark[], block?: string): Finding[] {
  const groups = new Map<string, Remark>();
  for (const remark of remarks) {
    const key = JSON.stringify([remark.kind, remark.what, remark.layer]);
    const first = groups.get(key);
    groups.set(key, first ? bothRemarks(first, remark) : remark);
  }
  return [...groups.values()].map((remark) => {
    const { severity, message, todo } = wordings[remark.kind];
    const where = block === undefined ? '' : `In block ${block}: `;
    return {
      severity,
      rule: remark.kind,
      message: where + message(remark),
      todo: remark.todo ?? todo,
      where: { line: remark.line },
    };
  });
}

function bothRemarks(first: Remark, other: Remark): Remark {
  const count = first.count + other.count;
  if (first.fit === undefined || other.fit === undefined) return { ...first, count };
  const fit = {
    segments: first.fit.segments + other.fit.segments,
    deviation: Math.max(first.fit.deviation, other.fit.deviation),
    kinkDeg: Math.max(first.fit.kinkDeg, other.fit.kinkDeg),
  };
  return { ...first, count, fit };
}
