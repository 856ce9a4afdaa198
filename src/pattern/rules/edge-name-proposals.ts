import type { TextEntity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { counted, listed } from '../../base/wording.ts';
import { isBesideEdge, wordsJoined } from '../edge-names.ts';
import { tracedKinds } from '../edges.ts';
import type { Feature } from '../feature.ts';
import { pileIn, askedNumber, namedSide, saysPair } from '../first-look/side-words.ts';
import type { Piece } from '../piece.ts';

/** So many texts are quoted; of more only the number is given. */
const mostQuoted = 6;

/** A text that may be the name of an edge, and the line beside it. */
interface EdgeNameProposal {
  readonly piece: Piece;
  readonly text: TextEntity;
  readonly line: Feature;
}

/**
 * Rule: a text of a word or two that stands beside one edge line alone, on another layer than that, may be
 * the name of the edge. It is only read; that it might be more is told once for all pieces. Only edges of
 * a kind of which the piece has several are looked at: there a name matters.
 */
export function checkEdgeNameProposals(pieces: readonly Piece[]): Finding[] {
  const found = pieces.flatMap(proposalsOn);
  const [first] = found;
  if (first === undefined) return [];
  const quoted = found
    .slice(0, mostQuoted)
    .map(
      ({ piece, text, line }) =>
        `"${text.text.trim()}" beside a ${line.role} line of ${piece.name}`,
    );
  const rest = found.length - quoted.length;
  const words = listed([...quoted, ...(rest > 0 ? [`${rest} more`] : [])]);
  const { file } = first.piece.where;
  return [
    {
      severity: 'note',
      rule: 'edge-name-proposed',
      message: `${counted(found.length, 'text')} on another layer may name the edge ${found.length === 1 ? 'it stands' : 'they stand'} beside: ${words}.`,
      todo: 'Nothing to do: they are only read. What names an edge belongs on the layer of its line.',
      where: { ...(file !== undefined && { file }), line: first.text.line },
    },
  ];
}

function proposalsOn(piece: Piece): EdgeNameProposal[] {
  const traces = piece.features.filter(({ role }) => tracedKinds[role] !== undefined);
  const isOneOfSeveral = ({ role }: Feature): boolean =>
    traces.filter((one) => one.role === role).length > 1;
  const known = new Set(traces.map(({ name }) => name));
  return piece.notes.flatMap((text): EdgeNameProposal[] => {
    if (text.kind !== 'text' || !mayBeName(text.text, piece)) return [];
    const [line, ...others] = traces.filter((trace) => isBesideEdge(text, trace));
    if (line === undefined || others.length > 0 || line.name !== null) return [];
    return isOneOfSeveral(line) && !known.has(wordsJoined(text.text))
      ? [{ piece, text, line }]
      : [];
  });
}

function mayBeName(text: string, { name }: Piece): boolean {
  return (
    /^\p{L}+([ /-]\p{L}+)?$/u.test(text.trim()) &&
    wordsJoined(text) !== name &&
    namedSide(text).bare !== '' &&
    !saysPair(text) &&
    askedNumber(text) === null &&
    pileIn(text) === null
  );
}
