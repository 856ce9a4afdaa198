import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../../base/findings.ts';
import type { SeamView } from '../../../../drafting/seam-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import { calls } from '../../server/calls.ts';
import { findingsToShow } from '../../server/client.ts';
import type { StretchPart } from './shown-stretches.ts';

/** How the seams of a set fit; none while they are not known. Asked again for each version of its files. */
export function useSeams(set: string, version: string | undefined): readonly SeamView[] {
  const [seams, setSeams] = useState<readonly SeamView[]>([]);
  useEffect(() => {
    if (version === undefined) return undefined;
    let isOld = false;
    calls
      .draftSeams(set)
      .then((found) => {
        if (!isOld) setSeams(found.seams);
      })
      // Why a set cannot be read is told with the set itself.
      .catch(() => undefined);
    return () => {
      isOld = true;
    };
  }, [set, version]);
  return seams;
}

/** One of the two edges of a seam that is looked at. */
export interface SewnSide {
  readonly piece: string;
  readonly stretches: readonly StretchPart[];
}

/** How two edges would fit if they were sewn. null: it is not known yet. */
export function useAskedSeam(
  set: string,
  version: string | undefined,
  sides: readonly [SewnSide, SewnSide] | null,
  ease: number | null,
): { readonly seam: SeamView | null; readonly findings: readonly Finding[] } {
  const [seam, setSeam] = useState<SeamView | null>(null);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const key = JSON.stringify([version, sides, ease]);
  useEffect(() => {
    setFindings([]);
    if (sides === null) {
      setSeam(null);
      return undefined;
    }
    let isOld = false;
    const [first, second] = sides.map(({ piece, stretches }) => ({
      piece,
      stretches: stretches.map(({ from, to }) => ({ from, to })),
    }));
    calls
      .askedSeam(set, { kind: 'seam', sides: [first!, second!], ease })
      .then((found) => {
        if (!isOld) setSeam(found);
      })
      .catch((error: unknown) => {
        if (isOld) return;
        setSeam(null);
        setFindings(findingsToShow(error));
      });
    return () => {
      isOld = true;
    };
  }, [set, key]);
  return { seam, findings };
}

/** The stretches of an edge that a seam names: `piece`, or `piece/edge`. */
export function sideOfReference(
  ref: string,
  pieces: ReadonlyMap<string, PieceView>,
): SewnSide | null {
  const [name, edge] = ref.split('/') as [string, string | undefined];
  const piece = pieces.get(name);
  if (piece === undefined) return null;
  const stretches = piece.stretches.filter(
    (one) => one.kind === 'seam' && (edge === undefined || one.name === edge),
  );
  return { piece: name, stretches };
}
