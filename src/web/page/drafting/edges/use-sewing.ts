import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../../base/findings.ts';
import type { SeamView } from '../../../../drafting/seam-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { Chosen } from '../chosen.ts';
import { nothingChosen } from '../chosen.ts';
import { seenFrom } from './seam-words.ts';
import type { StretchPart } from './shown-stretches.ts';
import { carriedOver } from './shown-stretches.ts';
import type { EdgesShown } from './use-edges.ts';
import type { SewnSide } from './use-seams.ts';
import { sideOfReference, useAskedSeam } from './use-seams.ts';

/** Two pieces beside each other, of which edges are sewn together or not. */
export interface Sewing {
  readonly seams: readonly SeamView[];
  /** The piece beside the one that is shown. undefined: no seam is looked at; null: it is not chosen yet. */
  readonly other: PieceView | null | undefined;
  readonly otherChosen: Chosen;
  readonly sides: readonly [SewnSide, SewnSide | null] | null;
  /** How they fit, seen from the piece that is shown, and as they stand in the set file. */
  readonly seam: SeamView | null;
  readonly standing: SeamView | null;
  readonly findings: readonly Finding[];
  readonly ease: number | null;
  readonly setEase: (ease: number | null) => void;
  readonly begin: () => void;
  readonly end: () => void;
  readonly chooseOther: (piece: string | null) => void;
  readonly chooseOtherEdges: (edges: readonly number[], add: boolean) => void;
  /** Looks at a seam that stands: its other edge is chosen beside the piece. */
  readonly beginWith: (piece: string, ref: string, ease: number | null) => void;
}

interface Beside {
  /** The piece from which it began. */
  readonly from: string;
  readonly piece: string | null;
  readonly reaches: readonly StretchPart[];
}

/** What is looked at when edges are sewn. */
export function useSewing(
  set: string,
  version: string | undefined,
  seams: readonly SeamView[],
  piece: PieceView | null,
  pieces: ReadonlyMap<string, PieceView>,
  edges: EdgesShown,
): Sewing {
  const [beside, setBeside] = useState<Beside | null>(null);
  const [ease, setEase] = useState<number | null>(null);
  const isOn = beside !== null && piece !== null && beside.from === piece.name;
  const other = isOn && beside.piece !== null ? (pieces.get(beside.piece) ?? null) : null;
  const otherEdges =
    other === null || beside === null
      ? []
      : carriedOver(
          beside.reaches,
          beside.reaches.map((_, i) => i),
          other.stretches,
          other.round,
        );
  const first: SewnSide | null = isOn
    ? { piece: piece.name, stretches: edges.chosen.map((i) => edges.stretches[i]!) }
    : null;
  const second: SewnSide | null =
    other === null
      ? null
      : { piece: other.name, stretches: otherEdges.map((i) => other.stretches[i]!) };
  const both =
    first !== null && second !== null && first.stretches.length > 0 && second.stretches.length > 0
      ? ([first, second] as const)
      : null;
  const asked = useAskedSeam(set, version, both, ease);
  const seam = asked.seam === null || piece === null ? null : seenFrom(asked.seam, piece.name);
  const found = seam === null ? null : seams.find((one) => isSameJoin(one.join, seam.join));
  const standing = found ?? null;
  const key = standing === null ? null : standing.join.join(' ');
  useEffect(() => {
    if (standing !== null) setEase(standing.ease);
  }, [key]);
  return {
    seams,
    other: isOn ? other : undefined,
    otherChosen: otherEdges.length === 0 ? nothingChosen : { kind: 'edges', edges: otherEdges },
    sides: first === null ? null : [first, second],
    seam,
    standing,
    findings: asked.findings,
    ease,
    setEase,
    begin: () => {
      setEase(null);
      if (piece !== null) setBeside({ from: piece.name, piece: null, reaches: [] });
    },
    end: () => setBeside(null),
    chooseOther: (name) => setBeside((before) => before && { ...before, piece: name, reaches: [] }),
    chooseOtherEdges: (chosen, add) => {
      if (other === null) return;
      const all = add ? [...new Set([...otherEdges, ...chosen])] : chosen;
      const reaches = all.map((i) => other.stretches[i]!);
      setBeside((before) => before && { ...before, reaches });
    },
    beginWith: (from, ref, itsEase) => {
      const side = sideOfReference(ref, pieces);
      if (side === null) return;
      setEase(itsEase);
      setBeside({ from, piece: side.piece, reaches: side.stretches });
    },
  };
}

function isSameJoin(a: SeamView['join'], b: SeamView['join']): boolean {
  return (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);
}
