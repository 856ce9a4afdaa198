import type { Entity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { errorFinding } from '../../base/findings.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import { drawnTraces } from './drawn-traces.ts';
import { withEdge } from './with-edge.ts';

/** What became of the entities of a block when an edge got another name. */
export interface RenamedEdge {
  readonly entities: readonly Entity[];
  /** Why nothing was done. */
  readonly findings: readonly Finding[];
}

/**
 * The entities of a block after the edges of this name on plain layers got another one. With a neighbour of
 * the same kind that has the new name already an edge becomes one line. What the set file says of the edge is
 * renamed by withEdgeRenamed. Refused: a name that no edge has, and one that an edge of another place has.
 */
export function renameEdge(draft: EdgeDraft, edge: string, name: string): RenamedEdge {
  const { entities, piece } = draft;
  if (edge === name) return { entities, findings: [] };
  const { traces, outline } = drawnTraces(draft);
  const own = traces.filter((one) => one.isPlain && one.span !== null && one.name === edge);
  const stop = (message: string, todo: string): RenamedEdge => ({
    entities,
    findings: [errorFinding('edge-word', message, todo, piece.where)],
  });
  if (own.length === 0)
    return stop(`no edge of "${piece.name}" is called "${edge}".`, 'Choose an edge that has a name.');
  if (traces.some((one) => one.name === name))
    return stop(
      `an edge of "${piece.name}" is called "${name}" already.`,
      'Choose a name that no edge of this piece has.',
    );
  return own.reduce<RenamedEdge>(
    (made, { kind, span }) => {
      if (made.findings.length > 0) return made;
      const { from, to } = span!;
      const next = withEdge(
        { ...draft, entities: made.entities },
        { from, to: to % outline.length, kind, name },
      );
      const wrong = next.findings.filter(({ severity }) => severity === 'error');
      return { entities: wrong.length > 0 ? entities : next.entities, findings: next.findings };
    },
    { entities, findings: [] },
  );
}
