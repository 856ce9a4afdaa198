import type { Finding } from '../../base/findings.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { ExpectedPart } from '../record/expected.ts';
import { expectedCuts } from '../record/expected.ts';
import { fault } from './faults.ts';
import type { KnifePlace, Stroke } from '../reading/trace.ts';
import { isBefore } from '../reading/trace.ts';
import { sayable } from '../reading/comments.ts';

/** How far the punch may be from the middle of its hole, mm. */
const onHole = 0.05;

/**
 * Faults if a hole is not punched exactly once, if the punch works elsewhere, or after the part has begun
 * to come free. `freed`: by the label of a part, the stroke with which it begins to come free.
 */
export function provePunches(
  punches: readonly KnifePlace[],
  parts: readonly ExpectedPart[],
  freed: ReadonlyMap<string, Stroke>,
  file: string,
): Finding[] {
  const holes = parts
    .flatMap(expectedCuts)
    .filter(({ kind }) => kind === 'punch')
    .map(({ label, path }) => ({ label, at: centreOf(boxOfPath(path)) }));
  const left = new Set(holes);
  const findings: Finding[] = [];
  for (const punch of punches) {
    const { at, line } = punch;
    const hole = [...left].find((one) => distance(one.at, at) <= onHole);
    if (hole === undefined) {
      const message = 'the punch works where no hole is, or a second time.';
      findings.push(fault('extra-cut', message, { file, line, at }));
      continue;
    }
    left.delete(hole);
    if (sayable(punch.note) !== sayable(`${hole.label} punch`)) {
      const message = `the hole is punched after the note "${punch.note}".`;
      findings.push(fault('note', message, { file, line, part: hole.label, at }));
    }
    const outline = freed.get(hole.label);
    if (outline === undefined || isBefore(punch, outline)) continue;
    const message = 'a hole is punched in the part once it is loose.';
    findings.push(fault('order', message, { file, line, part: hole.label, at }));
  }
  for (const { label, at } of left) {
    const message = 'a hole of the part is not punched.';
    findings.push(fault('missing-cut', message, { file, part: label, at }));
  }
  return findings;
}
