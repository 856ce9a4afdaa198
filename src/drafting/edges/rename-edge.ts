import type { Entity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { errorFinding } from '../../base/findings.ts';
import { plainName } from '../../base/names.ts';
import type { EdgeReference, NamingContent } from './edge-references.ts';
import { edgeReferences } from './edge-references.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import { drawnTraces } from './drawn-traces.ts';

/** What became of the entities of a block when an edge got another name. */
export interface RenamedEdge {
  readonly entities: readonly Entity[];
  /** The places of the set file that name it and must be rewritten: withEdgeRenamed does it. */
  readonly references: readonly EdgeReference[];
  /** Why nothing was done. */
  readonly findings: readonly Finding[];
}

/**
 * The entities of a block after an edge got another name: its text is written anew where it stands. Several
 * edges of that name are one to the set file, and are all renamed, those too that go with options. Refused: what
 * is no name, a name that no edge has, and one that another edge of the piece has. An edge without a name gets one from
 * withEdgeKind.
 */
export function renameEdge(
  draft: EdgeDraft,
  content: NamingContent,
  edge: string,
  name: string,
): RenamedEdge {
  const { entities, piece } = draft;
  const { traces } = drawnTraces(draft);
  const texts = new Set(traces.flatMap((one) => (one.name === edge ? [one.text] : [])));
  const problem = plainName.safeParse(name).success
    ? texts.size === 0
      ? `no edge of "${piece.name}" is called "${edge}".`
      : name !== edge && traces.some((one) => one.name === name)
        ? `an edge of "${piece.name}" is called "${name}" already.`
        : null
    : `an edge cannot be called "${name}".`;
  if (problem !== null) {
    const todo = 'Choose a name of small letters and digits that no edge of this piece has.';
    const findings = [errorFinding('edge-word', problem, todo, piece.where)];
    return { entities, references: [], findings };
  }
  if (edge === name) return { entities, references: [], findings: [] };
  return {
    entities: entities.map((entity, i) =>
      entity.kind === 'text' && texts.has(i) ? { ...entity, text: name } : entity,
    ),
    references: edgeReferences(content, piece.name, edge),
    findings: [],
  };
}
