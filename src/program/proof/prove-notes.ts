import type { Finding } from '../../base/findings.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Action, Program } from '../reading/actions.ts';
import { isMotion, movesOverBed } from '../reading/actions.ts';
import { sayable } from '../reading/comments.ts';
import type { Stroke } from '../reading/trace.ts';
import { isAtCutDepth } from '../reading/trace.ts';
import type { ExpectedCut, ExpectedPart } from '../record/expected.ts';
import { expectedCuts } from '../record/expected.ts';
import type { Coverage } from './coverage.ts';
import { fault } from './faults.ts';

/** What the note before a cut must say. */
function noteOf({ label, kind }: Pick<ExpectedCut, 'label' | 'kind'>): string {
  return kind === 'mark' ? 'registration mark' : `${label} ${kind}`;
}

/**
 * Faults if a note says something that the lay does not have, or if nothing is cut between it and the
 * next. `own`: lines that the profile gives, which may say what they like.
 */
export function noteFaults(
  { actions, file }: Program,
  parts: readonly ExpectedPart[],
  cutter: Cutter,
  own: ReadonlySet<number>,
): Finding[] {
  const known = new Set(
    ['lead-in', 'registration mark', ...parts.flatMap(expectedCuts).map(noteOf)].map(sayable),
  );
  const findings: Finding[] = [];
  let open: Extract<Action, { kind: 'note' }> | undefined;
  const close = (): void => {
    if (open === undefined) return;
    const message = `nothing is cut after the note "${open.text}".`;
    findings.push(fault('note', message, { file, line: open.line }));
    open = undefined;
  };
  for (const action of actions) {
    if (own.has(action.line)) continue;
    if (action.kind === 'note') {
      close();
      if (known.has(sayable(action.text))) {
        open = action;
      } else {
        const message = `the note "${action.text}" names nothing that is cut here.`;
        findings.push(fault('note', message, { file, line: action.line }));
      }
    } else if (action.kind === 'stop' || action.kind === 'end') {
      close();
    } else if (isWork(action, cutter)) {
      open = undefined;
    }
  }
  return findings;
}

function isWork(action: Action, cutter: Cutter): boolean {
  if (action.kind === 'punch') return action.word !== 'M9';
  return isMotion(action) && movesOverBed(action) && isAtCutDepth(action.from.z, cutter);
}

/** Faults if the note before a stroke says another cut than the one on which it lies. */
export function announcedFaults(
  { cutsOf }: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
): Finding[] {
  return strokes.flatMap(({ note, file, steps }, i) => {
    const owners = cutsOf[i]!.map((cut) => cuts[cut]!);
    if (owners.length === 0 || owners.some((cut) => sayable(noteOf(cut)) === sayable(note))) {
      return [];
    }
    const { label: part } = owners[0]!;
    const said = note === '' ? 'without a note before it' : `after the note "${note}"`;
    const message = `${noteOf(owners[0]!)} is cut ${said}.`;
    return [fault('note', message, { file, line: steps[0]!.line, part })];
  });
}
