/**
 * What the tool has to say about a drawing, a set or a run. A finding is data: how bad it is, which
 * rule it comes from, what is wrong, what to do, and where. Stages return findings or throw a
 * Refusal; only the faces print.
 */

export type Severity = 'error' | 'warning' | 'note';

/**
 * Where to look. Lines and columns count from 1; a `heading` names a column of a table. `at` is in mm: in
 * the frame of the vehicle if a `part` of a `piece` is given, in that of the piece's drawing if the piece
 * alone is, otherwise in that of the file.
 */
export interface Place {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly heading?: string;
  readonly piece?: string;
  readonly part?: string;
  /** The hand of drive in which the part is so. Left out: in both, or nothing depends on it. */
  readonly hand?: 'RHD' | 'LHD';
  /** With which options or materials it is so, in words. Left out: with all, or nothing depends on it. */
  readonly choice?: string;
  readonly at?: Spot;
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

export interface Finding {
  readonly severity: Severity;
  /** Short name of the rule in kebab case, which never changes, for filters and tests. */
  readonly rule: string;
  /** What is wrong, in one sentence, with the figures. */
  readonly message: string;
  /** What to do about it. */
  readonly todo: string;
  readonly where: Place;
}

/**
 * Thrown when the work cannot go on without a guess. It carries at least one finding. A command that
 * throws it ends with exit code 2.
 */
export class Refusal extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map(wordFinding).join('\n'));
    this.name = 'Refusal';
    this.findings = findings;
  }
}

export function errorFinding(
  rule: string,
  message: string,
  todo: string,
  where: Place = {},
): Finding {
  return { severity: 'error', rule, message, todo, where };
}

/** Throws a Refusal with one error. */
export function refuse(rule: string, message: string, todo: string, where: Place = {}): never {
  throw new Refusal([errorFinding(rule, message, todo, where)]);
}

/** One line for a person: place, what is wrong, what to do. */
export function wordFinding(finding: Finding): string {
  return wordAlike([finding]);
}

/** The same of findings that differ by where they point to alone, of one at least. */
export function wordAlike([finding, ...others]: readonly [Finding, ...Finding[]]): string {
  const place = wordPlace(
    finding.where,
    others.flatMap(({ where }) => where.at ?? []),
  );
  return `${place === '' ? '' : `${place}: `}${finding.message} ${finding.todo}`.trim();
}

/**
 * The place as `file:line:column, column HEADING, piece NAME, part NAME, in LHD, with overdrive, at 12.0,
 * 40.5 in the vehicle`; what is not known is left out. With `others` it says `at 2 places in the vehicle (12.0, 40.5; 3.0,
 * 7.5)`.
 */
export function wordPlace(place: Place, others: readonly Spot[] = []): string {
  const words: string[] = [];
  if (place.file !== undefined) {
    words.push([place.file, place.line, place.column].filter((w) => w !== undefined).join(':'));
  } else if (place.line !== undefined) {
    words.push(`line ${place.line}`);
  }
  if (place.heading !== undefined) words.push(`column ${place.heading}`);
  if (place.piece !== undefined) words.push(`piece ${place.piece}`);
  if (place.part !== undefined) words.push(`part ${place.part}`);
  if (place.hand !== undefined) words.push(`in ${place.hand}`);
  if (place.choice !== undefined) words.push(place.choice);
  if (place.at !== undefined) {
    const spots = [place.at, ...others].map(wordSpot);
    words.push(
      others.length === 0
        ? `at ${spots[0]!}${wordFrame(place)}`
        : `at ${spots.length} places${wordFrame(place)} (${spots.join('; ')})`,
    );
  }
  return words.join(', ');
}

/** A point as `12.0, 40.5`. */
export function wordSpot({ x, y }: Spot): string {
  return `${x.toFixed(1)}, ${y.toFixed(1)}`;
}

function wordFrame({ piece, part }: Place): string {
  if (piece === undefined) return '';
  return part === undefined ? " in the piece's drawing" : ' in the vehicle';
}

/**
 * The findings without notes about which nothing needs to be done ("Nothing to do." and no more): `check`
 * shows them, and whoever cuts has no use for them.
 */
export function withoutIdleNotes(findings: readonly Finding[]): Finding[] {
  return findings.filter(
    ({ severity, todo }) => severity !== 'note' || !/^Nothing to do[.:]/.test(todo),
  );
}

export function hasErrors(findings: readonly Finding[]): boolean {
  return findings.some((finding) => finding.severity === 'error');
}

/** The errors, then the warnings, then the notes. Those of one kind keep their order. */
export function worstFirst<T extends Pick<Finding, 'severity'>>(findings: readonly T[]): T[] {
  const rank = { error: 0, warning: 1, note: 2 } as const;
  return findings.toSorted((a, b) => rank[a.severity] - rank[b.severity]);
}

/** The findings in groups that differ by where they point to alone. */
export function alikeFindings(findings: readonly Finding[]): [Finding, ...Finding[]][] {
  const groups = new Map<string, [Finding, ...Finding[]]>();
  for (const [i, finding] of findings.entries()) {
    const { at, ...where } = finding.where;
    const key = at === undefined ? String(i) : JSON.stringify({ ...finding, where });
    const known = groups.get(key);
    if (known === undefined) groups.set(key, [finding]);
    else known.push(finding);
  }
  return [...groups.values()];
}

/**
 * The findings without repeats: several hands or sets may raise the same one. One that both hands raise
 * names no hand.
 */
export function distinctFindings(findings: readonly Finding[]): Finding[] {
  const distinct = new Map<string, Finding>();
  for (const finding of findings) {
    const { hand, ...where } = finding.where;
    const key = JSON.stringify({ ...finding, where });
    const known = distinct.get(key);
    if (known === undefined) distinct.set(key, finding);
    else if (known.where.hand !== hand) distinct.set(key, { ...finding, where });
  }
  return [...distinct.values()];
}

/** Findings in the order of the lines that they point to. */
export function inOrderOfLines(findings: readonly Finding[]): Finding[] {
  return findings.toSorted((a, b) => (a.where.line ?? 0) - (b.where.line ?? 0));
}

/**
 * The findings of several tellers, each once, with all who tell it. Findings of tellers of another `scope`
 * are never the same.
 */
export function findingsWithTellers<T extends { readonly findings: readonly Finding[] }>(
  tellers: readonly T[],
  scope: (teller: T) => string = () => '',
): { finding: Finding; by: T[] }[] {
  const told = new Map<string, { finding: Finding; by: T[] }>();
  for (const teller of tellers) {
    for (const finding of distinctFindings(teller.findings)) {
      const key = JSON.stringify([scope(teller), finding]);
      const known = told.get(key) ?? { finding, by: [] };
      told.set(key, known);
      known.by.push(teller);
    }
  }
  return [...told.values()];
}

/** Throws a Refusal with all errors among the findings, each once. Does nothing if there are none. */
export function refuseErrors(findings: readonly Finding[]): void {
  const errors = findings.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) throw new Refusal(distinctFindings(errors));
}
