import { recordedName } from '../../../program/record/run-record.ts';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { RunEvent } from '../../api/events.ts';
import type { LayTable, SearchState } from '../../api/lay.ts';
import type { PicturedLay } from '../../api/pictured.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { onLinkNews } from '../server/link.ts';
import type { OpenRunFile } from '../use-run-file.ts';

type Trying = Extract<RunEvent, { kind: 'trying' }>;

interface LiveLayTable {
  readonly table: LayTable | null;
  /** The newest lay of each roll, by the key that `layKey` gives. */
  readonly lays: ReadonlyMap<string, PicturedLay>;
  readonly trying: Trying | null;
  /** null: no search is under way. */
  readonly search: SearchState | null;
  readonly findings: readonly Finding[];
  readonly setFindings: (findings: readonly Finding[]) => void;
}

const endedWithServer: Finding = {
  severity: 'note',
  rule: 'search-ended',
  message: 'the search ended with the server.',
  todo: 'The best lay that it had found is in the run file.',
  where: {},
};

/** The lays of a run, as its file has them and as a search improves them. */
export function useLayTable(run: OpenRunFile, version: string): LiveLayTable {
  const [table, setTable] = useState<LayTable | null>(null);
  const [live, setLive] = useState<ReadonlyMap<string, PicturedLay>>(new Map());
  const [trying, setTrying] = useState<Trying | null>(null);
  const [search, setSearch] = useState<SearchState | null>(null);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const asked = useRef(0);

  const load = (): void => {
    const own = ++asked.current;
    calls
      .layTable(run.name)
      .then((next) => {
        if (own !== asked.current) return;
        setTable(next);
        setSearch(next.search);
        setLive(new Map());
      })
      .catch((error: unknown) => {
        if (own === asked.current) setFindings(findingsToShow(error));
      });
  };
  useEffect(load, [run.name, version, run.connection]);
  useEffect(
    () =>
      onLinkNews((news) => {
        if (news === 'back') return;
        // A search does not outlive its server; what it had found is in the run file.
        setSearch((before) => {
          if (before !== null) setFindings([endedWithServer]);
          return null;
        });
        setTrying(null);
      }),
    [run.name],
  );
  useEffect(
    () =>
      run.onEvent((event) => {
        if (event.kind === 'search') setSearch(event);
        if (event.kind === 'trying') setTrying(event);
        if (event.kind === 'lay') {
          setLive((before) => new Map(before).set(recordedName(event), event));
        }
        if (event.kind === 'laid') {
          setSearch(null);
          setTrying(null);
          setFindings(event.findings);
          load();
        }
      }),
    [run.name],
  );
  const lays = useMemo(() => {
    const known = (table?.lays ?? []).map((lay) => [recordedName(lay), lay] as const);
    return new Map([...known, ...live]);
  }, [table, live]);
  return { table, lays, trying, search, findings, setFindings };
}
