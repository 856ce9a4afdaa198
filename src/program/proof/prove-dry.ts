import type { Finding } from '../../base/findings.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Action, Program } from '../reading/actions.ts';
import { isMotion, movesOverBed } from '../reading/actions.ts';
import { fault } from './faults.ts';
import { proveForm } from './prove-form.ts';
import type { HeadMeant } from './prove-head.ts';
import { proveHead } from './prove-head.ts';
import { proveTravel } from './prove-travel.ts';
import { feedLength, isAtTravelHeight, isCheck } from '../reading/trace.ts';

/** A step that both programs must make: its line, and what it does. */
interface ProgramStep {
  readonly line: number;
  readonly does: string;
}

/** What the dry program must say: what the cutting program says, and the record. */
type DryMeant = Omit<HeadMeant, 'kind' | 'bite'>;

/**
 * Faults of a dry program by itself: its form, its head, its stops, and that the knife stays at travel
 * height.
 */
export function proveDryAlone(dry: Program, meant: DryMeant): Finding[] {
  const { cutter } = meant.run;
  const { own, findings } = proveForm(dry, cutter);
  return [
    ...findings,
    ...proveHead(dry, { ...meant, kind: 'dry' }),
    ...proveTravel(dry, cutter, own).filter(({ rule }) => !cutRules.has(rule)),
  ];
}

/** Rules of a way in the material, which a dry program goes with the knife up. */
const cutRules: ReadonlySet<string> = new Set(['depth', 'oscillating', 'knife-down']);

/**
 * Faults if the dry program does not go the way of the cutting program, or lowers the knife, or switches
 * it on.
 */
export function proveDry(dry: Program, cut: Program, cutter: Cutter): Finding[] {
  const { file } = dry;
  const findings: Finding[] = [];
  if (dry.units !== cut.units) {
    findings.push(
      fault('units', `the dry program is in ${dry.units}, the cutting program in ${cut.units}.`, {
        file,
      }),
    );
  }
  for (const action of dry.actions) {
    const { line } = action;
    if (action.kind === 'spindle' && action.on) {
      findings.push(fault('oscillating', 'the dry program switches the knife on.', { file, line }));
    }
    if (action.kind === 'punch') {
      findings.push(fault('oscillating', 'the dry program works the punch.', { file, line }));
    }
    if (isMotion(action) && !isAtTravelHeight(action.to.z, cutter)) {
      const message = `the dry program lowers the knife to Z ${action.to.z}.`;
      findings.push(fault('knife-down', message, { file, line }));
    }
  }
  return [...findings, ...wayFaults(dry, cut)];
}

function wayFaults(dry: Program, cut: Program): Finding[] {
  const own = dry.actions.flatMap(stepOf);
  const other = cut.actions.flatMap(stepOf);
  const differs = other.findIndex((step, i) => own[i]?.does !== step.does);
  if (differs === -1 && own.length === other.length) return [];
  const at = differs === -1 ? other.length : differs;
  const { line } = own[at] ?? own.at(-1) ?? { line: 1 };
  const message =
    other[at] === undefined
      ? 'the dry program goes on where the cutting program has ended.'
      : `the dry program goes another way than the cutting program does in its line ${other[at].line}.`;
  return [fault('dry-way', message, { file: dry.file, line })];
}

/**
 * The step of an action: a motion over the bed, a turn, a feed, a check, a stop or a note. A dry program leaves
 * out that the knife goes up and down.
 */
function stepOf(action: Action): ProgramStep[] {
  const { line } = action;
  if (action.kind === 'message') {
    if (isCheck(action.text)) return [{ line, does: 'check' }];
    const length = feedLength(action.text);
    // Words that it does not know are named where the program is looked at alone.
    return length === undefined ? [] : [{ line, does: `feed ${length}` }];
  }
  if (action.kind === 'stop') return [{ line, does: 'stop' }];
  if (action.kind === 'note') return [{ line, does: `note ${action.text}` }];
  if (!isMotion(action)) return [];
  const { kind, from, to } = action;
  if (!movesOverBed(action) && from.deg === to.deg) return [];
  const arc = kind === 'arc' ? [action.centre.x, action.centre.y, action.sweepDeg] : [];
  return [{ line, does: [kind, to.x, to.y, to.deg, ...arc].join(' ') }];
}
