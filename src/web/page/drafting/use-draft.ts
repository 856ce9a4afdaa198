import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { Question } from '../../../drafting/questions.ts';
import type { RunNaming } from '../../../drafting/runs-naming.ts';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import type { SentDraft, SentQuestions } from '../../api/draft.ts';
import type { SentEdit } from '../server/calls.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { foreseen } from './foreseen.ts';

/** A draft that is open on the page. */
export interface OpenDraft {
  readonly name: string;
  /** null: it is not there yet, or cannot be read; the findings say why. */
  readonly head: DraftHead | null;
  readonly pieces: ReadonlyMap<string, PieceView>;
  /** What is open about it; null: not known yet. */
  readonly questions: readonly Question[] | null;
  /** Whether what is open is being looked for, since the last edit. */
  readonly isChecking: boolean;
  /**
   * The version of its files of which what is open is known; undefined: none yet. What takes long and nobody waits for
   * is asked of this one, so that what is open comes first.
   */
  readonly checked: string | undefined;
  /** Why the set cannot be read as it stands, and why the last edit was refused or left something as it was. */
  readonly findings: readonly Finding[];
  /** Does an edit; gives whether it was taken. Edits are done one after the other. */
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  /** The runs that speak of a piece; null: they could not be looked at, and the findings say why. */
  readonly runsNaming: (piece: string) => Promise<readonly RunNaming[] | null>;
  readonly undo: () => Promise<boolean>;
  readonly redo: () => Promise<boolean>;
  /** What another program did to the files was seen, at this time; null: nothing yet. */
  readonly changedOutside: number | null;
}

interface Known {
  readonly head: DraftHead | null;
  readonly pieces: ReadonlyMap<string, PieceView>;
}

const nothing: Known = { head: null, pieces: new Map() };

/** How often the files are looked at for what other programs did to them, ms. */
const lookEvery = 1500;

/** Opens a draft, does edits, and notices what other programs do to its files. */
export function useDraft(name: string): OpenDraft {
  const [known, setKnown] = useState<Known>(nothing);
  const [unreadable, setUnreadable] = useState<readonly Finding[]>([]);
  const [notSeen, setNotSeen] = useState<readonly Finding[]>([]);
  const [refused, setRefused] = useState<readonly Finding[]>([]);
  const [asked, setAsked] = useState<SentQuestions | null>(null);
  const [isUnderWay, setUnderWay] = useState(false);
  const [changedOutside, setChangedOutside] = useState<number | null>(null);
  const current = useRef(known);
  const line = useRef(Promise.resolve());

  /** Asks what is open, before anything else is asked of what was just taken. */
  const askOpen = useCallback((): void => {
    const version = current.current.head?.version;
    const isOld = (): boolean => current.current.head?.version !== version;
    calls
      .draftQuestions(name)
      .then((found) => {
        if (!isOld()) setAsked(found);
      })
      .catch((error: unknown) => {
        if (!isOld()) setUnreadable(findingsToShow(error));
      });
  }, [name]);

  const take = useCallback(
    (sent: SentDraft): void => {
      const fresh = new Map(sent.pieces.map((piece) => [piece.name, piece]));
      const pieces = new Map(
        sent.head.pieces.flatMap((piece): [string, PieceView][] => {
          const view = fresh.get(piece) ?? current.current.pieces.get(piece);
          return view === undefined ? [] : [[piece, view]];
        }),
      );
      current.current = { head: sent.head, pieces };
      setKnown(current.current);
      setUnreadable(sent.findings);
      askOpen();
    },
    [name],
  );

  /** Does something when all that was asked before is done. */
  const inLine = useCallback((work: () => Promise<void>): Promise<void> => {
    const done = line.current.then(work);
    line.current = done.catch(() => undefined);
    return done;
  }, []);

  const look = useCallback(
    () =>
      inLine(async () => {
        const before = current.current.head?.version;
        try {
          const sent = await calls.draft(name, before);
          setNotSeen([]);
          if (sent === null) return;
          take(sent);
          if (before !== undefined) setChangedOutside(Date.now());
        } catch (error) {
          setNotSeen(findingsToShow(error));
        }
      }),
    [name],
  );

  const step = useCallback(
    async (
      work: (version: string) => Promise<SentDraft>,
      isForAny: boolean,
      shownAfter: (piece: PieceView) => PieceView = (piece) => piece,
    ): Promise<boolean> => {
      let isTaken = false;
      const made = current.current.head!.version;
      await inLine(async () => {
        // Places of things and along edges hold for the files that were seen when it was asked.
        if (!isForAny && made !== current.current.head!.version) return setRefused([tooSoon]);
        const { head, pieces } = current.current;
        setUnderWay(true);
        setKnown({ head, pieces: new Map([...pieces].map(([at, one]) => [at, shownAfter(one)])) });
        try {
          const sent = await work(head!.version);
          take(sent);
          setRefused(sent.told);
          setChangedOutside(null);
          isTaken = true;
        } catch (error) {
          setKnown(current.current);
          setRefused(findingsToShow(error));
        }
        setUnderWay(false);
      });
      if (!isTaken) await look();
      return isTaken;
    },
    [name],
  );

  useEffect(() => {
    void look();
    const watch = setInterval(() => {
      if (!document.hidden) void look();
    }, lookEvery);
    return () => clearInterval(watch);
  }, [name]);

  return {
    name,
    ...known,
    questions: asked?.questions ?? null,
    isChecking: isUnderWay || asked?.version !== known.head?.version,
    checked: asked?.version,
    findings: [...refused, ...notSeen, ...unreadable],
    edit: (edit) =>
      step(
        (at) => calls.editDraft(name, { version: at, edit }),
        holdsForAny(edit),
        (piece) => foreseen(piece, edit),
      ),
    runsNaming: (piece) =>
      calls.draftRuns(name, piece).then(
        ({ runs }) => runs,
        (error: unknown) => {
          setRefused(findingsToShow(error));
          return null;
        },
      ),
    undo: () => step((at) => calls.undoDraft(name, at), true),
    redo: () => step((at) => calls.redoDraft(name, at), true),
    changedOutside,
  };
}

/** Whether an edit says the same whatever the one before it did: it names pieces and layers, and no places. */
function holdsForAny({ kind }: SentEdit): boolean {
  return ['set', 'pieces', 'layer', 'place'].includes(kind);
}

const tooSoon: Finding = {
  severity: 'error',
  rule: 'page',
  message: 'the change before it was not done yet when this was asked.',
  todo: 'Look at what is shown now, then do it again.',
  where: {},
};
