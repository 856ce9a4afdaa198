import type { Finding } from '../../base/findings.ts';
import { sayable } from '../reading/comments.ts';
import type { Program } from '../reading/actions.ts';
import { fault } from './faults.ts';
import type { DrawnCut, DrawnPart } from './prove-dxf.ts';

/**
 * A fault if the drawing does not have the contours in the order in which the program cuts them. A contour
 * that is cut in several bites counts where it is cut last. Notches are left out, because those that are
 * too short for the blade are drawn, but not cut.
 */
export function sequenceFaults(
  drawn: readonly DrawnPart[],
  inner: readonly DrawnCut[],
  program: Program,
  file: string,
): Finding[] {
  const cuts = [
    ...drawn.map(({ part, outline }) => ({
      note: `${part.record.label} outline`,
      line: outline.line,
    })),
    ...inner
      .filter(({ kind }) => kind !== 'notch')
      .map(({ label, kind, line }) => ({ note: `${label} ${kind}`, line })),
  ].toSorted((a, b) => a.line - b.line);
  const notes = program.actions.flatMap((action) =>
    action.kind === 'note' ? [sayable(action.text)] : [],
  );
  const inDrawing = cuts.map(({ note }) => sayable(note));
  // Contours that are cut in passes have more notes than the drawing has contours.
  const isOnce = (note: string): boolean =>
    notes.filter((one) => one === note).length === inDrawing.filter((one) => one === note).length;
  const once = new Set([...new Set(inDrawing)].filter(isOnce));
  const own = inDrawing.flatMap((note, i) => (once.has(note) ? [{ note, cut: cuts[i]! }] : []));
  const cutFirst = notes.filter((note) => once.has(note));
  const wrong = own.findIndex(({ note }, i) => note !== cutFirst[i]);
  if (wrong === -1) return [];
  const { note, line } = own[wrong]!.cut;
  const message = `the drawing has ${note} where the program cuts ${cutFirst[wrong] ?? 'nothing more'}: its order is not that of cutting.`;
  return [fault('order', message, { file, line })];
}
