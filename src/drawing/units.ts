import type { Box } from '../geometry/paths/box.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import type { Finding } from '../base/findings.ts';
import { refuse } from '../base/findings.ts';
import { decimal } from '../base/numbers.ts';
import type { Drawing, Units } from './drawing.ts';
import type { Tag } from './tags/tags.ts';

export const mmPer: Readonly<Record<Units, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

const unitWords: Readonly<Record<Units, string>> = { mm: 'mm', cm: 'cm', m: 'm', in: 'inches' };

export interface UnitsOptions {
  /** The units, whatever the file says. */
  readonly units?: Units;
  /** The units that the set file states for its drawings. */
  readonly setUnits?: Units;
}

/** The units for the values of $INSUNITS in the header. */
const unitsOfCode: ReadonlyMap<number, Units> = new Map([
  [1, 'in'],
  [4, 'mm'],
  [5, 'cm'],
  [6, 'm'],
]);

const otherUnits: ReadonlyMap<number, string> = new Map([
  [2, 'feet'],
  [3, 'miles'],
  [7, 'kilometres'],
  [8, 'microinches'],
  [9, 'mils'],
  [10, 'yards'],
  [13, 'microns'],
  [14, 'decimetres'],
]);

/** The units of a drawing, and what says so. */
export type UnitsRead = Pick<Drawing, 'units' | 'unitsFrom'>;

/**
 * The units of a drawing before anything drawn is looked at. The first of these that says something
 * counts: the option, the header's $INSUNITS, the set file. If none does, mm is assumed, or inches if the
 * header's $MEASUREMENT says so. What is drawn may say otherwise (see drawn-units.ts). Throws a Refusal
 * if the header names units in which no pattern is drawn.
 */
export function unitsOf(
  header: ReadonlyMap<string, Tag>,
  { units, setUnits }: UnitsOptions,
): UnitsRead {
  if (units !== undefined) return { units, unitsFrom: 'option' };
  const stated = statedUnits(header);
  if (stated !== undefined) return { units: stated, unitsFrom: 'header' };
  if (setUnits !== undefined) return { units: setUnits, unitsFrom: 'set' };
  return { units: header.get('$MEASUREMENT')?.value === '0' ? 'in' : 'mm', unitsFrom: 'assumed' };
}

/** The units that the header states. Undefined: $INSUNITS is missing, or 0, which states nothing. */
function statedUnits(header: ReadonlyMap<string, Tag>): Units | undefined {
  const tag = header.get('$INSUNITS');
  const code = Number(tag?.value ?? 0);
  if (code === 0 || unitsOfCode.has(code)) return unitsOfCode.get(code);
  return refuse(
    'units-unknown',
    `the header states ${otherUnits.get(code) ?? 'units unknown here'} ($INSUNITS ${code}, group 70); patterns are read in mm, cm, m or inches.`,
    'Export the drawing again, in mm.',
    tag === undefined ? {} : { line: tag.line },
  );
}

/**
 * Findings on the units; they give the size of the drawing each way. `box` is in mm, as read. `before`
 * are the units before anything drawn was looked at.
 */
export function unitsFindings(
  { units, unitsFrom }: UnitsRead,
  before: UnitsRead,
  { setUnits }: UnitsOptions,
  box: Box,
): Finding[] {
  const as = (other: Units): string => wordSize(box, mmPer[other] / mmPer[units]);
  if (unitsFrom === 'assumed') {
    const [one, two] = units === 'in' ? (['in', 'mm'] as const) : (['mm', 'in'] as const);
    return [
      {
        severity: 'warning',
        rule: 'units-assumed',
        message: `Nothing says in which units this is drawn. Which is right: ${as(one)}, or ${as(two)} if ${unitWords[two]}?`,
        todo: `State the units: "units: mm" in the set file, or --units. Until then sizes are shown as if it were in ${unitWords[one]}.`,
        where: {},
      },
    ];
  }
  const findings: Finding[] = [];
  if (unitsFrom === 'square' && before.unitsFrom === 'header' && before.units !== units) {
    findings.push({
      severity: 'warning',
      rule: 'units-square',
      message: `The header states ${unitWords[before.units]}, and the check square measures right in ${unitWords[units]}: taken as ${as(units)}, not ${as(before.units)}.`,
      todo: 'Export the drawing again with the right units in its header.',
      where: {},
    });
  }
  const fromDrawing = unitsFrom !== 'set' && unitsFrom !== 'option';
  if (fromDrawing && setUnits !== undefined && setUnits !== units) {
    findings.push({
      severity: 'error',
      rule: 'units-conflict',
      message: `${sources[unitsFrom]} ${unitWords[units]} and the set states ${unitWords[setUnits]}: ${as(units)} or ${as(setUnits)}.`,
      todo: 'See which size is right; correct "units:" in the set file, or export the drawing with the right units.',
      where: {},
    });
  }
  return findings;
}

const sources = {
  header: 'The header states',
  square: 'The check square measures right in',
  text: 'A text in the drawing states',
} as const;

function wordSize(box: Box, factor: number): string {
  if (widthOf(box) < 0) return 'nothing drawn';
  return `${decimal(widthOf(box) * factor, 1)} x ${decimal(heightOf(box) * factor, 1)} mm`;
}
