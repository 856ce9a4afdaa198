import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import { chosenWith, nothingChosen } from './chosen.ts';
import { SeamMarks } from './edges/seam-marks.tsx';
import { OtherPiece } from './edges/seam-table.tsx';
import { PiecePicture } from './piece-picture.tsx';
import { PlanView } from './plan/plan-view.tsx';
import { snapOf } from './things/snap.ts';
import type { OpenDesk } from './use-desk.ts';

/** What is large in the middle: the plan of the set, or a piece, and beside it the one that it is sewn to. */
export function DeskPicture({
  desk,
  head,
}: {
  readonly desk: OpenDesk;
  readonly head: DraftHead;
}): JSX.Element {
  const { draft, piece, sewing } = desk;
  const { asked } = desk.asking;
  return (
    <div class={`drafting-middle${sewing.other === undefined ? '' : ' two'}`}>
      {piece === null ? (
        <PlanView
          head={head}
          pieces={draft.pieces}
          asked={asked?.piece === null ? asked : null}
          chosen={desk.onPlan}
          onChoose={desk.chooseOnPlan}
          edit={draft.edit}
        />
      ) : (
        <ShownPiece desk={desk} piece={piece} />
      )}
      {sewing.other !== undefined && (
        <OtherPiece
          piece={sewing.other}
          pieces={[...draft.pieces.values()]}
          chosen={sewing.otherChosen}
          fits={sewing.seam?.fits ?? []}
          onPiece={sewing.chooseOther}
          onChoose={sewing.chooseOtherEdges}
        />
      )}
    </div>
  );
}

function ShownPiece({
  desk: {
    draft,
    choosing: { chosen, choose },
    placed: { placing, placeAt },
    edges,
    sewing,
    asking: { asked },
  },
  piece,
}: {
  readonly desk: OpenDesk;
  readonly piece: PieceView;
}): JSX.Element {
  const [isFraming, setFraming] = useState(false);
  const isAskedHere = asked?.piece === piece.name;
  return (
    <PiecePicture
      piece={piece}
      stretches={edges.stretches}
      chosen={chosen}
      asked={isAskedHere ? asked.at : null}
      gap={isAskedHere ? asked.gap : null}
      isFraming={isFraming}
      onPlace={placing !== null ? placeAt : edges.isPlacing ? edges.divideAt : null}
      snap={placing === null ? null : snapOf(placing.kind, piece)}
      onMove={(by) => {
        if (chosen.kind !== 'things') return;
        const things = [...chosen.things];
        void draft.edit({ kind: 'move', block: piece.block, things, by: [...by] });
      }}
      onPoint={(at, add) => choose((before) => chosenWith(before, at, add))}
      onSweep={(list) => choose({ kind: 'edges', edges: list })}
      onFrame={(things) => choose(things.length === 0 ? nothingChosen : { kind: 'things', things })}
      onFraming={setFraming}
      over={(view) =>
        sewing.other !== undefined &&
        sewing.seam?.fits.map((fit) => <SeamMarks fit={fit} edge={0} view={view} />)
      }
    />
  );
}
